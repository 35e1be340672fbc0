/** What went wrong in a command, as a sentence for the person at the terminal. */
export class CliError extends Error {
  override readonly name = 'CliError';
}

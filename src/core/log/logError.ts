/** A promise of the log that was broken: what was expected, what came, where, and what to do. */
export class LogError extends Error {
  readonly path: string | undefined;

  constructor(sentence: string, details: { readonly path?: string; readonly cause?: unknown } = {}) {
    super(sentence, { cause: details.cause });
    this.name = 'LogError';
    this.path = details.path;
  }
}

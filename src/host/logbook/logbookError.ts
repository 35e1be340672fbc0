/** The logbook could not be read or written: what was expected, what came, where, and what to do. */
export class LogbookError extends Error {
  readonly path: string;

  constructor(sentence: string, details: { readonly path: string; readonly cause?: unknown }) {
    super(sentence, { cause: details.cause });
    this.name = 'LogbookError';
    this.path = details.path;
  }
}

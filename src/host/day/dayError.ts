/** The day could not do what was asked: what was expected, what came, and what to do. */
export class DayError extends Error {
  constructor(sentence: string, details: { readonly cause?: unknown } = {}) {
    super(sentence, { cause: details.cause });
    this.name = 'DayError';
  }
}

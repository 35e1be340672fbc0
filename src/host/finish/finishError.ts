/** What stops finishing as a whole; a single bad frame is an outcome, not an error. */
export class FinishError extends Error {
  override readonly name = 'FinishError';
  readonly path: string;

  constructor(sentence: string, path: string, cause?: unknown) {
    super(sentence, { cause });
    this.path = path;
  }
}

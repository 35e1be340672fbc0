/** What could not be done about takedowns, erasure or what is kept. */
export class LawError extends Error {
  readonly path: string;

  constructor(sentence: string, path: string, cause?: unknown) {
    super(sentence, { cause });
    this.name = 'LawError';
    this.path = path;
  }
}

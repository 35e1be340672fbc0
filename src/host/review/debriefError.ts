export class DebriefError extends Error {
  override readonly name = 'DebriefError';
  readonly path: string;

  constructor(sentence: string, path: string, cause?: unknown) {
    super(sentence, { cause });
    this.path = path;
  }
}

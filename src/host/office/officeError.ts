/** The photographer's papers could not be read or written. */
export class OfficeError extends Error {
  override readonly name = 'OfficeError';
  readonly path: string;

  constructor(sentence: string, path: string, cause?: unknown) {
    super(sentence, { cause });
    this.path = path;
  }
}

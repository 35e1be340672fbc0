/** What stops the making of a gallery as a whole. */
export class GalleryError extends Error {
  override readonly name = 'GalleryError';
  readonly path: string;

  constructor(sentence: string, path: string, cause?: unknown) {
    super(sentence, { cause });
    this.path = path;
  }
}

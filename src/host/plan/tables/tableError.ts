/** A table file that cannot be read. */
export class TableError extends Error {
  override readonly name = 'TableError';
  readonly path: string;

  constructor(sentence: string, path: string, options?: ErrorOptions) {
    super(sentence, options);
    this.path = path;
  }
}

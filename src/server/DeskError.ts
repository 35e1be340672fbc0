/** The desk's one error: a sentence for the screen and the status that goes with it. */
export class DeskError extends Error {
  override readonly name = 'DeskError';
  readonly status: 400 | 401 | 403 | 404 | 409 | 500;

  constructor(status: DeskError['status'], sentence: string, options?: ErrorOptions) {
    super(sentence, options);
    this.status = status;
  }
}

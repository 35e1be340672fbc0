/** Something the service cannot do, in a sentence for whoever asked. */
export class ShopError extends Error {
  readonly status: 400 | 404 | 409 | 422 | 429 | 502;

  constructor(status: ShopError['status'], sentence: string, cause?: unknown) {
    super(sentence, { cause });
    this.name = 'ShopError';
    this.status = status;
  }
}

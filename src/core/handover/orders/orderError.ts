/** Something of an offer, a basket or an order that is not as it must be, in a sentence. */
export class OrderError extends Error {
  readonly where: string;

  constructor(sentence: string, where: string, cause?: unknown) {
    super(sentence, { cause });
    this.name = 'OrderError';
    this.where = where;
  }
}

/** The index could not do what was asked. It can always be deleted and made again from the meeting folder. */
export class IndexError extends Error {
  readonly received: unknown;

  constructor(sentence: string, details: { readonly received?: unknown; readonly cause?: unknown } = {}) {
    super(sentence, { cause: details.cause });
    this.name = 'IndexError';
    this.received = details.received;
  }
}

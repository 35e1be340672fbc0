/** A meeting could not be made or opened: what was expected, what came, where, and what to do. */
export class MeetingError extends Error {
  readonly path: string;
  /** Where the program that has the meeting open can be reached, when that is why. */
  readonly address: string | undefined;

  constructor(
    sentence: string,
    details: { readonly path: string; readonly address?: string | undefined; readonly cause?: unknown },
  ) {
    super(sentence, { cause: details.cause });
    this.name = 'MeetingError';
    this.path = details.path;
    this.address = details.address;
  }
}

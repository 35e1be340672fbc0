/** What stops putting up. What is `passing` is tried again by itself; the rest needs a person. */
export class PutUpError extends Error {
  override readonly name = 'PutUpError';
  readonly path: string;
  readonly isPassing: boolean;

  constructor(
    sentence: string,
    path: string,
    { isPassing = false, cause }: { isPassing?: boolean; cause?: unknown } = {},
  ) {
    super(sentence, { cause });
    this.path = path;
    this.isPassing = isPassing;
  }
}

export const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** What went wrong with a model or a picture given to it. */
export class VisionError extends Error {
  readonly path?: string;

  constructor(message: string, details: { readonly path?: string; readonly cause?: unknown } = {}) {
    super(message, details.cause === undefined ? undefined : { cause: details.cause });
    this.name = 'VisionError';
    if (details.path !== undefined) this.path = details.path;
  }
}

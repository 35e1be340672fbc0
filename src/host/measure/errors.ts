/** The measurer itself is broken, or a disk went away: no frame's fault, so nothing is remembered against one. */
export class MeasureError extends Error {
  override readonly name = 'MeasureError';
  readonly path: string | undefined;

  constructor(sentence: string, about: { readonly path?: string; readonly cause?: unknown } = {}) {
    super(sentence, about.cause === undefined ? {} : { cause: about.cause });
    this.path = about.path;
  }
}

/** Reads a file brought in beside the page: a day's recording takes seconds, and meanwhile the page can be stopped and scrolled. */
import { type AboutBrought, type Brought, readBrought } from '../../../core/plan/circuit/readBrought.js';

export interface BroughtAsked {
  readonly file: Blob;
  readonly about: AboutBrought;
  /** Counts what was asked: an answer to an earlier question is passed over. */
  readonly nth: number;
}

export type BroughtTold =
  | { readonly kind: 'share'; readonly nth: number; readonly share: number }
  | { readonly kind: 'read'; readonly nth: number; readonly brought: Brought }
  | { readonly kind: 'failed'; readonly nth: number; readonly why: string };

const tell = (told: BroughtTold): void => globalThis.postMessage(told);

globalThis.addEventListener('message', ({ data }: MessageEvent<BroughtAsked>) => {
  const { file, about, nth } = data;
  file.text().then(
    (text) =>
      tell({ kind: 'read', nth, brought: readBrought(text, about, (share) => tell({ kind: 'share', nth, share })) }),
    (error: unknown) => tell({ kind: 'failed', nth, why: String(error) }),
  );
});

/** The mark of proofs: words, or the photographer's own picture, looked at and taken from a file. */
import type { Context, Hono } from 'hono';
import type { Day } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import type { MarkView } from './types.js';

/** The meeting's, as it is kept on this machine. Each throws a sentence where it cannot be. */
export interface ProofMark {
  /** A PNG; null where the mark is words. */
  picture(): Promise<Uint8Array | null>;
  /** From then on, here and in the next meeting. */
  keep(name: string, bytes: Uint8Array): Promise<void>;
  /** Words again. */
  letGo(): Promise<void>;
}

const MOST_BYTES = 20_000_000;

export function addMark(app: Hono, day: Day, mark: ProofMark | undefined): void {
  const own = (): ProofMark => {
    if (mark === undefined) throw new DeskError(404, 'This desk was opened without a mark of the proofs.');
    return mark;
  };
  const view = async (): Promise<MarkView> => {
    const words = day.state().about.markText ?? null;
    try {
      return { isPicture: (await own().picture()) !== null, words, trouble: null };
    } catch (cause) {
      if (cause instanceof DeskError) throw cause;
      return { isPicture: false, words, trouble: sentenceOf(cause) };
    }
  };
  app.get('/api/finish/mark', async (context) => context.json(await view()));
  app.post('/api/finish/mark', async (context) => {
    await refusing(own().keep(nameOf(context), await bytesOf(context)));
    return context.json(await view());
  });
  app.post('/api/finish/mark/words', async (context) => {
    await refusing(own().letGo());
    return context.json(await view());
  });
  app.get('/pictures/mark', async (context) => {
    const png = await refusing(own().picture());
    if (png === null) throw new DeskError(404, 'The mark of the proofs is words, so there is no picture of it.');
    return context.body(new Uint8Array(png), 200, { 'Content-Type': 'image/png', 'Cache-Control': 'no-store' });
  });
}

const sentenceOf = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause));

const refusing = <T>(work: Promise<T>): Promise<T> =>
  work.catch((cause: unknown) => {
    throw cause instanceof DeskError ? cause : new DeskError(409, sentenceOf(cause), { cause });
  });

const nameOf = (context: Context): string => {
  const said = context.req.header('x-file-name') ?? 'the file';
  try {
    return decodeURIComponent(said).slice(0, 200);
  } catch {
    return 'the file';
  }
};

async function bytesOf(context: Context): Promise<Uint8Array> {
  const length = Number(context.req.header('content-length') ?? 0);
  const bytes = length > MOST_BYTES ? null : new Uint8Array(await context.req.arrayBuffer());
  if (bytes !== null && bytes.length <= MOST_BYTES) return bytes;
  throw new DeskError(
    400,
    `Expected a mark of at most ${MOST_BYTES / 1e6} MB but ${nameOf(context)} is larger. Nothing was changed; save it smaller.`,
  );
}

/** What was said of each card when it was done: kept outside the meeting, for it is this machine's word about a card in a reader. */
import { readFile } from 'node:fs/promises';
import type { CardProgress, FormatVerdict } from '../../core/bringin/types.js';
import type { FillId } from '../../core/ids.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { writeWhole } from '../meeting/writeWhole.js';

export interface RememberedCard {
  readonly at: EpochMs;
  readonly verdict: FormatVerdict;
  readonly troubles: readonly string[];
  /** Where its copies stand, as the sentences name them. */
  readonly disks: readonly string[];
}

export interface RememberedCards {
  all(): ReadonlyMap<FillId, RememberedCard>;
  /** Nothing is remembered of a card that is still coming in. */
  take(progress: CardProgress): void;
  /** When all that was taken is written. */
  written(): Promise<void>;
}

export async function rememberCards(file: string, now: () => number): Promise<RememberedCards> {
  const cards = new Map(await readCards(file));
  let writing: Promise<void> = Promise.resolve();
  return {
    all: () => cards,
    take({ fill, verdict, troubles, copies, state }) {
      if (fill === '' || verdict === null || (state !== 'finished' && state !== 'stopped')) return;
      cards.set(fill, { at: epochMsOf(now()), verdict, troubles, disks: copies.map(({ disk }) => disk) });
      // It can be asked for again by putting the card in, so a state folder that cannot be written stops nothing.
      writing = writing.then(() => writeWhole(file, JSON.stringify([...cards]))).catch(() => undefined);
    },
    written: () => writing,
  };
}

const readCards = (file: string): Promise<readonly (readonly [FillId, RememberedCard])[]> =>
  readFile(file, 'utf8')
    .then((text) => JSON.parse(text) as readonly (readonly [FillId, RememberedCard])[])
    .catch(() => []);

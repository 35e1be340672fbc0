/**
 * Fetches ahead what comes to stand on the screen next, so that nobody waits for it: pictures are asked for and decoded while the hand
 * rests, and held, for a browser lets go of what no page shows.
 */
import type { RiderToChooseView, ToChooseFrameView } from '../../server/choosing/types.js';
import type { CloseLookView } from '../../server/judging/types.js';
import { queries } from '../api/queries.js';
import { bikesOf, type Looks, looksByName, looksQuery, toChooseQuery } from './choosingQueries.js';
import { nameOf } from './framesSaid.js';
import { allPlaces, besidePlace, LOOKING_AFRESH, rowsOf } from './looking.js';

const MOST_HELD = 240;
const held = new Map<string, HTMLImageElement>();

function hold(src: string): void {
  const before = held.get(src);
  if (before) {
    held.delete(src);
    held.set(src, before);
    return;
  }
  const image = new Image();
  image.src = src;
  image.decode().catch(() => held.delete(src));
  held.set(src, image);
  const oldest = held.keys().next();
  if (held.size > MOST_HELD && !oldest.done) held.delete(oldest.value);
}

const srcsOf = (look: CloseLookView | undefined): readonly string[] => [
  ...(look?.whole ? [look.whole.src] : []),
  ...(look?.parts ?? []).map(({ src }) => src),
];

export const pictureSrc = ({ frameId }: Pick<ToChooseFrameView, 'frameId'>): string => `/pictures/${frameId}`;

/** The set's pictures, then each of the first places with what it will be held against. */
export function holdPictures(view: RiderToChooseView, looks: Looks, places: number): void {
  const all = allPlaces(rowsOf(view, false));
  const pairs = all.slice(0, places).flatMap((place) => {
    const beside = besidePlace(view, { ...LOOKING_AFRESH, current: place.frame }, place);
    return [place.frame, ...(beside ? [beside.frame] : [])];
  });
  for (const { frame } of all) hold(pictureSrc(frame));
  for (const frame of pairs) for (const src of srcsOf(looks.get(nameOf(frame)))) hold(src);
}

/** What the next rider opens with. */
const PLACES_AHEAD = 4;

export async function fetchAhead(key: string): Promise<void> {
  const view = await queries.fetchQuery(toChooseQuery(key));
  const bikes = bikesOf(view);
  const looks = bikes.length > 0 ? await queries.fetchQuery(looksQuery(bikes)).catch(() => undefined) : undefined;
  holdPictures(view, looksByName(looks), PLACES_AHEAD);
}

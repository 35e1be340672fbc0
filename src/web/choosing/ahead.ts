/**
 * Fetches ahead what comes to stand on the screen, so that nobody waits for it. Pictures are asked for two at a time, those first that
 * may be wanted first, decoded while the hand rests, and held: a browser lets go of what no page shows.
 */
import type { BikeName, RiderToChooseView } from '../../server/choosing/types.js';
import { queries } from '../api/queries.js';
import { bikesOf, type Looks, looksByName, looksQuery, toChooseQuery } from './choosingQueries.js';
import { nameOf } from './framesSaid.js';
import { allPlaces, besidePlace, isSame, LOOKING_AFRESH, type Place, rowsOf } from './looking.js';

const MOST_HELD = 300;
const MOST_HERE = 180;
const MOST_NEXT = 100;
const AT_ONCE = 2;
const held = new Map<string, HTMLImageElement>();
/** Of the rider who stands there, and of those who come next. */
let here: ReadonlySet<string> = new Set();
let next: ReadonlySet<string> = new Set();
let underWay = 0;

const notYet = (): string | undefined => [...here, ...next].find((src) => !held.has(src));

function fetchWanted(): void {
  for (let src = notYet(); src !== undefined && underWay < AT_ONCE; src = notYet()) {
    underWay += 1;
    // What does not come is not asked for again from here: its place on the screen says so.
    void hold(src)
      .catch(() => undefined)
      .finally(() => {
        underWay -= 1;
        fetchWanted();
      });
  }
}

function hold(src: string): Promise<void> {
  const image = new Image();
  image.src = src;
  held.set(src, image);
  if (held.size > MOST_HELD) {
    const unwanted = [...held.keys()].find((one) => !here.has(one) && !next.has(one));
    if (unwanted !== undefined) held.delete(unwanted);
  }
  return image.decode();
}

const crops = (looks: Looks, bike: BikeName): readonly string[] => {
  const look = looks.get(nameOf(bike));
  return [...(look?.whole ? [look.whole.src] : []), ...(look?.parts ?? []).map(({ src }) => src)];
};

/** Each of these places with what it will be held against, then all other frames of their passes. */
function picturesOf(view: RiderToChooseView, looks: Looks, places: readonly Place[]): readonly string[] {
  const pairs = places.flatMap((place) => {
    const beside = besidePlace(view, { ...LOOKING_AFRESH, current: place.frame }, place);
    return [place.frame, ...(beside ? [beside.frame] : [])];
  });
  const others = places.flatMap(({ pass }) => pass.frames);
  return [...pairs, ...others].flatMap((frame) => crops(looks, frame));
}

const ofTheSet = (places: readonly Place[]): readonly string[] =>
  places.map(({ frame }) => `/pictures/${frame.frameId}`);

/** Of the rider who stands there: the current frame's pass, the two places after it, then the rest of the set. */
export function holdHere(view: RiderToChooseView, looks: Looks, current: Place | null): void {
  const set = allPlaces(rowsOf(view, false));
  const at = set.findIndex(({ frame }) => isSame(frame, current?.frame ?? null));
  const now = current ? picturesOf(view, looks, [current]) : [];
  const after = picturesOf(view, looks, set.slice(at + 1, at + 3));
  here = new Set([...now, ...after, ...ofTheSet(set), ...picturesOf(view, looks, set)].slice(0, MOST_HERE));
  fetchWanted();
}

/** So many places of a rider who comes next: those that the first keys can bring. */
const PLACES_AHEAD = 3;

export async function fetchAhead(keys: readonly string[]): Promise<void> {
  const coming: string[] = [];
  for (const key of keys) {
    const view = await queries.fetchQuery(toChooseQuery(key));
    const bikes = bikesOf(view);
    const looks = bikes.length > 0 ? looksByName(await queries.fetchQuery(looksQuery(bikes))) : new Map();
    const set = allPlaces(rowsOf(view, false));
    coming.push(...ofTheSet(set), ...picturesOf(view, looks, set.slice(0, PLACES_AHEAD)));
    next = new Set(coming.slice(0, MOST_NEXT));
    fetchWanted();
  }
}

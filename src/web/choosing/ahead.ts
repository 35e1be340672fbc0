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
interface Wanted {
  /** What the next keys may bring. */
  readonly first: readonly string[];
  readonly rest: readonly string[];
}
/** Of the rider who stands there, and of those who come next. */
let here: Wanted = { first: [], rest: [] };
let next: Wanted = { first: [], rest: [] };
let underWay = 0;

const allWanted = (): readonly string[] => [...here.first, ...next.first, ...here.rest, ...next.rest];
const notYet = (): string | undefined => allWanted().find((src) => !held.has(src));

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
    const wanted = new Set(allWanted());
    const unwanted = [...held.keys()].find((one) => !wanted.has(one));
    if (unwanted !== undefined) held.delete(unwanted);
  }
  return image.decode();
}

/** The small picture too: it stands in the set once the frame is kept, and in the crop's place where there is none. */
function crops(looks: Looks, bike: BikeName): readonly string[] {
  const look = looks.get(nameOf(bike));
  const whole = look?.whole ? [look.whole.src] : [];
  return [`/pictures/${bike.frameId}`, ...whole, ...(look?.parts ?? []).map(({ src }) => src)];
}

/** Each of these places with what it will be held against. */
function pairsOf(view: RiderToChooseView, looks: Looks, places: readonly Place[]): readonly string[] {
  const pairs = places.flatMap((place) => {
    const beside = besidePlace(view, { ...LOOKING_AFRESH, current: place.frame }, place);
    return [place.frame, ...(beside ? [beside.frame] : [])];
  });
  return pairs.flatMap((frame) => crops(looks, frame));
}

const passesOf = (looks: Looks, places: readonly Place[]): readonly string[] =>
  places.flatMap(({ pass }) => pass.frames).flatMap((frame) => crops(looks, frame));

/** Of somebody with few frames any of them may come next. */
const FEW = 12;
function fewOf(view: RiderToChooseView, looks: Looks): readonly string[] {
  const frames = view.passes.flatMap((pass) => pass.frames);
  return frames.length > FEW ? [] : frames.flatMap((frame) => crops(looks, frame));
}

const ofTheSet = (places: readonly Place[]): readonly string[] =>
  places.map(({ frame }) => `/pictures/${frame.frameId}`);

/** Of the rider who stands there: the current frame's pass and the two places after it, then the rest of the set. */
export function holdHere(view: RiderToChooseView, looks: Looks, current: Place | null): void {
  const set = allPlaces(rowsOf(view, false));
  const at = set.findIndex(({ frame }) => isSame(frame, current?.frame ?? null));
  const now = current ? [current] : [];
  here = {
    first: [
      ...pairsOf(view, looks, now),
      ...ofTheSet(set),
      ...passesOf(looks, now),
      ...pairsOf(view, looks, set.slice(at + 1, at + 3)),
      ...fewOf(view, looks),
    ],
    rest: [...pairsOf(view, looks, set), ...passesOf(looks, set)].slice(0, MOST_HERE),
  };
  fetchWanted();
}

/** So many places of a rider who comes next: those that the first keys can bring. */
const PLACES_AHEAD = 3;

export async function fetchAhead(keys: readonly string[]): Promise<void> {
  const first: string[] = [];
  const rest: string[] = [];
  for (const key of keys) {
    const view = await queries.fetchQuery(toChooseQuery(key));
    const bikes = bikesOf(view);
    const looks = bikes.length > 0 ? looksByName(await queries.fetchQuery(looksQuery(bikes))) : new Map();
    const set = allPlaces(rowsOf(view, false));
    first.push(...pairsOf(view, looks, set.slice(0, 1)), ...ofTheSet(set), ...fewOf(view, looks));
    rest.push(...pairsOf(view, looks, set.slice(1, PLACES_AHEAD)), ...passesOf(looks, set.slice(0, PLACES_AHEAD)));
    next = { first: [...first], rest: rest.slice(0, MOST_NEXT) };
    fetchWanted();
  }
}

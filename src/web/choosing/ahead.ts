/**
 * Fetches ahead what comes to stand on the screen, so that nobody waits for it. Pictures are asked for three at a time, those first that
 * the next key may bring, and held: a browser lets go of what no page shows. Only what the next key may bring is decoded too: decoding
 * all that may come some time would keep a small machine from answering the key.
 */
import type { BikeName, RiderToChooseView } from '../../server/choosing/types.js';
import { queries } from '../api/queries.js';
import { bikesOf, type Looks, looksByName, looksQuery, toChooseQuery } from './choosingQueries.js';
import { nameOf } from './framesSaid.js';
import { allPlaces, besidePlace, currentPlace, isSame, LOOKING_AFRESH, type Place, rowsOf } from './looking.js';
import { partInWhole } from './partInWhole.js';

const MOST_HELD = 300;
const MOST_LATER = 80;
const AT_ONCE = 3;

interface Held {
  readonly image: HTMLImageElement;
  isDecoded: boolean;
}
const held = new Map<string, Held>();

interface Wanted {
  /** What the next key may bring. */
  readonly first: readonly string[];
  readonly later: readonly string[];
}
const NOTHING: Wanted = { first: [], later: [] };
/** Of the rider who stands there, and of those who come next. */
let here = NOTHING;
let next = NOTHING;
let underWay = 0;

const allFirst = (): readonly string[] => [...here.first, ...next.first];
const allLater = (): readonly string[] => [...here.later, ...next.later];

/** The next picture to see to: fetched and decoded, or only fetched. */
function notYet(): { readonly src: string; readonly isFirst: boolean } | null {
  const first = allFirst().find((src) => held.get(src)?.isDecoded !== true);
  if (first !== undefined) return { src: first, isFirst: true };
  const later = allLater().find((src) => !held.has(src));
  return later === undefined ? null : { src: later, isFirst: false };
}

function fetchWanted(): void {
  for (let one = notYet(); one !== null && underWay < AT_ONCE; one = notYet()) {
    underWay += 1;
    // What does not come is not asked for again from here: its place on the screen says so.
    void hold(one.src, one.isFirst)
      .catch(() => undefined)
      .finally(() => {
        underWay -= 1;
        fetchWanted();
      });
  }
}

function hold(src: string, isDecoded: boolean): Promise<void> {
  const before = held.get(src);
  const image = before?.image ?? new Image();
  held.set(src, { image, isDecoded });
  if (before === undefined) image.src = src;
  letGo();
  return isDecoded ? image.decode() : whenThere(image);
}

const whenThere = (image: HTMLImageElement): Promise<void> =>
  new Promise((resolve, reject) => {
    image.addEventListener('load', () => resolve());
    image.addEventListener('error', reject);
  });

function letGo(): void {
  if (held.size <= MOST_HELD) return;
  const wanted = new Set([...allFirst(), ...allLater()]);
  const unwanted = [...held.keys()].find((one) => !wanted.has(one));
  if (unwanted !== undefined) held.delete(unwanted);
}

/** The small picture too: it stands in the set once the frame is kept, and in the crop's place where there is none. */
function crops(looks: Looks, bike: BikeName): readonly string[] {
  const small = `/pictures/${bike.frameId}`;
  const look = looks.get(nameOf(bike));
  if (!look?.whole) return [small];
  const { whole, parts } = look;
  return [small, whole.src, ...parts.filter((part) => partInWhole(part, whole) === null).map(({ src }) => src)];
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

/**
 * What stands there, and what each of the next keys may bring: the other instead, the places about it, the rest of its pass. The pass
 * too because the desk, choosing anew, may propose another of it, and what is held against the current one then changes.
 */
function nearTo(view: RiderToChooseView, looks: Looks, current: Place | null): readonly string[] {
  const set = allPlaces(rowsOf(view, false));
  const at = set.findIndex(({ frame }) => isSame(frame, current?.frame ?? null));
  const other = besidePlace(view, { ...LOOKING_AFRESH, current: current?.frame ?? null }, current);
  const now = current ? [current] : [];
  return [
    ...pairsOf(view, looks, now),
    ...ofTheSet(set),
    ...pairsOf(view, looks, other ? [other] : []),
    ...pairsOf(view, looks, set.slice(at + 1, at + 3)),
    ...pairsOf(view, looks, set.slice(Math.max(0, at - 1), Math.max(0, at))),
    ...passesOf(looks, now),
  ];
}

/** Of the rider who stands there; later the rest of the set. */
export function holdHere(view: RiderToChooseView, looks: Looks, current: Place | null): void {
  const set = pairsOf(view, looks, allPlaces(rowsOf(view, false)));
  here = {
    first: nearTo(view, looks, current),
    later: [...fewOf(view, looks), ...set].slice(0, MOST_LATER),
  };
  fetchWanted();
}

/** One that was overtaken says nothing more. */
let turnsAhead = 0;

/** Of the very next rider what stands there first is decoded too; of those after only fetched. */
export async function fetchAhead(keys: readonly string[]): Promise<void> {
  const turn = ++turnsAhead;
  const first: string[] = [];
  const later: string[] = [];
  for (const [place, key] of keys.entries()) {
    // What others were said of since changes nothing here; who is gone to is asked for anew.
    const view = await queries.ensureQueryData(toChooseQuery(key));
    const bikes = bikesOf(view);
    const looks = bikes.length > 0 ? looksByName(await queries.ensureQueryData(looksQuery(bikes))) : new Map();
    if (turn !== turnsAhead) return;
    (place === 0 ? first : later).push(...nearTo(view, looks, currentPlace(view, LOOKING_AFRESH)));
    later.push(...fewOf(view, looks));
    next = { first: [...first], later: later.slice(0, MOST_LATER) };
    fetchWanted();
  }
}

/** What is looked at on the choosing sheet, and the decisions that follow from it. Pure but for the store at the end. */
import type { Decision } from '../../core/log/types.js';
import type { BikeName, RiderToChooseView, ToChooseFrameView, ToChoosePassView } from '../../server/choosing/types.js';
import type { ArcView } from '../../server/types.js';
import { createStore } from '../stores/store.js';

export interface Looking {
  /** The one that is meant; null: the first of the set. */
  readonly current: BikeName | null;
  /** What it is compared with; null: the best other one of its pass. */
  readonly beside: BikeName | null;
  readonly isFull: boolean;
  readonly drawsEvidence: boolean;
  readonly showsEveryPass: boolean;
}

export const LOOKING_AFRESH: Looking = {
  current: null,
  beside: null,
  isFull: false,
  drawsEvidence: true,
  showsEveryPass: false,
};

export interface Place {
  readonly pass: ToChoosePassView;
  readonly frame: ToChooseFrameView;
}

export const isKept = ({ kept }: ToChooseFrameView): boolean => kept === 'proposed' || kept === 'kept-by-person';

export const isSame = (a: BikeName | null, b: BikeName | null): boolean =>
  a !== null && b !== null && a.frameId === b.frameId && a.subject === b.subject;

/** One spot's row of the set. */
export interface SpotRow {
  /** Null: passes at no spot that is known. */
  readonly spot: ToChoosePassView['spot'];
  readonly state: ArcView['state'] | null;
  readonly frames: number;
  readonly places: readonly Place[];
}

const bestOf = (pass: ToChoosePassView): ToChooseFrameView | undefined =>
  pass.frames.find((frame) => frame.kept !== 'left-out' && pass.bestFirst[0] === pass.frames.indexOf(frame)) ??
  pass.bestFirst.map((i) => pass.frames[i]).find((frame) => frame !== undefined && frame.kept !== 'left-out') ??
  pass.frames[pass.bestFirst[0] ?? 0];

/** What is kept of each pass; with `everyPass` the best of one that keeps nothing too. */
function placesOf(pass: ToChoosePassView, everyPass: boolean): readonly Place[] {
  const kept = pass.frames.filter(isKept);
  const shown = kept.length > 0 || !everyPass ? kept : [bestOf(pass)].flatMap((frame) => frame ?? []);
  return shown.map((frame) => ({ pass, frame }));
}

/** The set, spot by spot in the order of the wheel; passes at no known spot last. */
export function rowsOf(view: RiderToChooseView, everyPass: boolean): readonly SpotRow[] {
  const rowOf = (spot: SpotRow['spot'], state: SpotRow['state']): SpotRow => {
    const passes = view.passes.filter((pass) => pass.spot?.number === spot?.number);
    return {
      spot,
      state,
      frames: passes.reduce((sum, { frames }) => sum + frames.length, 0),
      places: passes.flatMap((pass) => placesOf(pass, everyPass)),
    };
  };
  const onWheel = view.rider.wheel.map(({ number, name, state }) => rowOf({ number, name }, state));
  const beyond = new Map(
    view.passes.flatMap(({ spot }) =>
      spot && !view.rider.wheel.some(({ number }) => number === spot.number) ? [[spot.number, spot] as const] : [],
    ),
  );
  const nowhere = view.passes.some(({ spot }) => spot === null) ? [rowOf(null, null)] : [];
  return [...onWheel, ...[...beyond.values()].map((spot) => rowOf(spot, null)), ...nowhere];
}

export const allPlaces = (rows: readonly SpotRow[]): readonly Place[] => rows.flatMap(({ places }) => places);

export function findPlace(view: RiderToChooseView, bike: BikeName | null): Place | null {
  if (bike === null) return null;
  for (const pass of view.passes) {
    const frame = pass.frames.find((one) => isSame(one, bike));
    if (frame) return { pass, frame };
  }
  return null;
}

/** The one that is meant; without a set the best there is. */
export function currentPlace(view: RiderToChooseView, { current, showsEveryPass }: Looking): Place | null {
  const first = allPlaces(rowsOf(view, showsEveryPass))[0] ?? allPlaces(rowsOf(view, true))[0];
  return findPlace(view, current) ?? first ?? null;
}

/** What it is held against: what was asked for, else the best of its pass that is free, else what came second, else any of its pass. */
export function besidePlace(view: RiderToChooseView, looking: Looking, current: Place | null): Place | null {
  if (current === null) return null;
  const asked = findPlace(view, looking.beside);
  if (asked && !isSame(asked.frame, current.frame)) return asked;
  const { pass, frame } = current;
  const others = pass.bestFirst.flatMap((i) => pass.frames[i] ?? []).filter((one) => !isSame(one, frame));
  const free = others.find((one) => one.kept === null);
  if (free) return { pass, frame: free };
  const second = findPlace(view, frame.second);
  if (second && second.frame.kept === null) return second;
  return others[0] ? { pass, frame: others[0] } : null;
}

/** A comma sets one frame of the pass after another beside the current one. */
export function stepBeside(view: RiderToChooseView, looking: Looking): Looking {
  const current = currentPlace(view, looking);
  const beside = besidePlace(view, looking, current);
  if (current === null) return looking;
  const others = current.pass.frames.filter((one) => !isSame(one, current.frame));
  const at = others.findIndex((one) => isSame(one, beside?.frame ?? null));
  return { ...looking, beside: others[(at + 1) % others.length] ?? null };
}

const goTo = (looking: Looking, place: Place | undefined): Looking =>
  place ? { ...looking, current: place.frame, beside: null } : looking;

/** One place on or back, stopping at both ends; with `isFar` to the first of the next spot. */
export function stepPlace(view: RiderToChooseView, looking: Looking, step: 1 | -1, isFar: boolean): Looking {
  const rows = rowsOf(view, looking.showsEveryPass);
  const places = allPlaces(rows);
  const current = currentPlace(view, looking);
  const at = places.findIndex(({ frame }) => isSame(frame, current?.frame ?? null));
  if (at < 0) return goTo(looking, places[0]);
  if (!isFar) return goTo(looking, places[at + step]);
  const filled = rows.filter(({ places: own }) => own.length > 0);
  const row = filled.findIndex(({ places: own }) => own.includes(places[at]!));
  return goTo(looking, filled[row + step]?.places[0]);
}

/** Where the eye goes when the current one leaves the set: to the one after it, else the one before. */
export function afterLeaving(view: RiderToChooseView, looking: Looking): Looking {
  const places = allPlaces(rowsOf(view, looking.showsEveryPass));
  const current = currentPlace(view, looking);
  const at = places.findIndex(({ frame }) => isSame(frame, current?.frame ?? null));
  return goTo(looking, places[at + 1] ?? places[at - 1]);
}

export const keeping = ({ file, point }: ToChooseFrameView): Decision => ({ kind: 'keep', file, point });
export const leavingOut = ({ file, point }: ToChooseFrameView): Decision => ({ kind: 'leave-out', file, point });

/** The set as it stands, so that one sees later what was gone through. Null where nothing names the rider. */
export function goneThrough(view: RiderToChooseView): Decision | null {
  if (view.point === null) return null;
  const files = view.passes.flatMap(({ frames }) => frames.filter(isKept).map(({ file }) => file));
  return { kind: 'gone-through', of: view.point, files: [...new Set(files)] };
}

export const looking = createStore<Looking>(LOOKING_AFRESH);

/** Another rider's set is looked at from its beginning; how it is looked at stays. */
export const lookAfresh = (): void =>
  looking.update((before) => ({ ...before, current: null, beside: null, isFull: false }));

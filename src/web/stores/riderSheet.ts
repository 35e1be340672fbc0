/** What is current on a rider's sheet, and the decisions that follow from it. Pure but for the store at the end. */
import type { FrameId, RiderId } from '../../core/ids.js';
import type { BikePoint, Decision } from '../../core/log/types.js';
import type { WallMs } from '../../core/units.js';
import type { PassFrameView, PassView, RiderView } from '../../server/types.js';
import { createStore } from './store.js';

/** A pass by its frames and its time: its place in the day changes whenever the day is arranged again. */
export interface PassMark {
  readonly start: WallMs;
  readonly frames: readonly FrameId[];
}

export interface RiderSheetState {
  /** The current pass, or null before the first step. */
  readonly pass: PassMark | null;
  /** Marked frame of that pass; null means the whole pass. */
  readonly frame: FrameId | null;
  /** Passes marked to go together; with any, what is said is said of them and not of the current one. */
  readonly marked: readonly PassMark[];
  /** What the sheet asks now: whom to join the marked frames or the whole rider with, whether to bar for good, or what a rider may ask. */
  readonly asking: 'join-marked' | 'join-whole' | 'bar-frame' | 'bar-rider' | 'law' | null;
}

export const NOTHING_MARKED: RiderSheetState = { pass: null, frame: null, marked: [], asking: null };

export const allPasses = (view: RiderView): readonly PassView[] => view.sessions.flatMap((session) => session.passes);

export const markOf = (pass: PassView): PassMark => ({
  start: pass.start,
  frames: pass.frames.map((frame) => frame.frameId),
});

export const isCurrentPass = (pass: PassView, { pass: mark }: RiderSheetState): boolean =>
  mark !== null && pass.frames.some((frame) => mark.frames.includes(frame.frameId));

const isOf = (pass: PassView, mark: PassMark): boolean =>
  pass.frames.some((frame) => mark.frames.includes(frame.frameId));

export const isMarkedPass = (pass: PassView, { marked }: RiderSheetState): boolean =>
  marked.some((mark) => isOf(pass, mark));

/** Marks the current pass, or takes its mark off. */
export function turnMark(view: RiderView, state: RiderSheetState): RiderSheetState {
  const pass = currentPass(view, state);
  if (!pass) return state;
  const others = state.marked.filter((mark) => !isOf(pass, mark));
  return { ...state, frame: null, marked: isMarkedPass(pass, state) ? others : [...others, markOf(pass)] };
}

/** What is said is said of these: one frame, else the marked passes, else the current one. */
export function meantFrames(view: RiderView, state: RiderSheetState): readonly PassFrameView[] {
  const pass = currentPass(view, state);
  if (state.frame !== null || state.marked.length === 0) return pass ? markedFrames(pass, state) : [];
  return allPasses(view)
    .filter((one) => isMarkedPass(one, state))
    .flatMap((one) => one.frames);
}

export const currentPass = (view: RiderView, state: RiderSheetState): PassView | null =>
  allPasses(view).find((pass) => isCurrentPass(pass, state)) ?? null;

/** A frame that is not in the pass any more marks nothing: never another frame in its place. */
export const markedFrames = (pass: PassView, state: RiderSheetState): readonly PassFrameView[] =>
  state.frame === null ? pass.frames : pass.frames.filter((frame) => frame.frameId === state.frame);

/** Where to begin: the first pass, or, where the current one has left the sheet, the one beside where it stood. */
const passBeside = (passes: readonly PassView[], mark: PassMark | null, step: 1 | -1): PassView | undefined => {
  if (mark === null) return passes[0];
  return step === 1
    ? (passes.find((pass) => pass.start >= mark.start) ?? passes.at(-1))
    : (passes.findLast((pass) => pass.start <= mark.start) ?? passes[0]);
};

/** One pass on or back; with `isFar` to the first pass of the next session. Starts at the first. */
export function stepPass(view: RiderView, state: RiderSheetState, step: 1 | -1, isFar: boolean): RiderSheetState {
  const passes = allPasses(view);
  const at = passes.findIndex((pass) => isCurrentPass(pass, state));
  const goTo = (pass: PassView | undefined): RiderSheetState => ({
    ...state,
    pass: pass ? markOf(pass) : state.pass,
    frame: null,
  });
  if (at < 0) return goTo(passBeside(passes, state.pass, step));
  if (!isFar) return goTo(passes[at + step]);
  const session = view.sessions.findIndex(({ passes: own }) => own.some((pass) => isCurrentPass(pass, state)));
  return goTo(view.sessions[session + step]?.passes[0]);
}

/** A comma marks one frame after another, then the whole pass again. */
export function stepFrame(view: RiderView, state: RiderSheetState): RiderSheetState {
  const pass = currentPass(view, state);
  if (!pass) return state;
  const at = pass.frames.findIndex((frame) => frame.frameId === state.frame);
  return { ...state, frame: pass.frames[at + 1]?.frameId ?? null };
}

/** Bikes that name this rider and are not among the marked ones. */
const anchorsBeside = (view: RiderView, marked: readonly PassFrameView[]): readonly BikePoint[] => {
  const files = new Set(marked.map((frame) => frame.file));
  const others = allPasses(view)
    .flatMap((pass) => pass.frames)
    .filter((frame) => !files.has(frame.file));
  const anchors = view.anchors.filter((anchor) => !files.has(anchor.file));
  return anchors.length > 0 ? anchors.slice(0, 3) : others.slice(0, 1).map((frame) => frame.point);
};

/** A frame that stays this rider's when the marked ones are taken out: one of those they are said to differ from. */
export function stayingFrame(view: RiderView, marked: readonly PassFrameView[]): FrameId | null {
  const files = anchorsBeside(view, marked).map((anchor) => anchor.file);
  const frames = allPasses(view).flatMap((pass) => pass.frames);
  return frames.find((frame) => frame.file === files[0])?.frameId ?? null;
}

/** One bike of every pass that stays, but for those that `anchors` name already. */
const everyOtherPass = (view: RiderView, marked: readonly PassFrameView[], anchors: readonly BikePoint[]) => {
  const named = new Set([...marked.map((frame) => frame.file), ...anchors.map((anchor) => anchor.file)]);
  return allPasses(view).flatMap((pass) => {
    const staying = pass.frames.filter((frame) => !named.has(frame.file));
    const shown = staying.find((frame) => frame === pass.frames[pass.best]) ?? staying[0];
    return shown ? [shown.point] : [];
  });
};

/**
 * The marked frames are not this rider, but still one rider among themselves. It is said of every pass that stays:
 * one that was not named could go along with the marked ones. Null where nothing else is left to differ from. */
export function takeOutDecisions(view: RiderView, marked: readonly PassFrameView[]): readonly Decision[] | null {
  const anchors = anchorsBeside(view, marked);
  if (marked.length === 0 || anchors.length === 0) return null;
  const points = marked.map((frame) => frame.point);
  const together: Decision[] = points.length > 1 ? [{ kind: 'same-rider', points }] : [];
  // Two points a line: "different" is said of every pair in it, and the anchors are one rider.
  const apart = points.flatMap((point) =>
    anchors.map((anchor): Decision => ({ kind: 'different-riders', points: [point, anchor] })),
  );
  const fromTheRest = everyOtherPass(view, marked, anchors).map(
    (other): Decision => ({ kind: 'different-riders', points: [points[0]!, other] }),
  );
  return [...together, ...apart, ...fromTheRest];
}

/** The marked frames go to another rider: not this one, but that one. */
export function moveDecisions(
  view: RiderView,
  marked: readonly PassFrameView[],
  to: BikePoint,
): readonly Decision[] | null {
  const first = marked[0];
  const out = takeOutDecisions(view, marked);
  return first && out ? [...out, { kind: 'same-rider', points: [first.point, to] }] : null;
}

export function joinWholeDecisions(view: RiderView, to: BikePoint): readonly Decision[] | null {
  const anchor = view.anchors[0];
  return anchor ? [{ kind: 'same-rider', points: [anchor, to] }] : null;
}

/** From the current pass on it is another rider: the passes before stay one, those from here on are one. */
export function divideDecisions(view: RiderView, state: RiderSheetState): readonly Decision[] | null {
  const passes = [...allPasses(view)].sort((a, b) => a.start - b.start);
  const at = passes.findIndex((pass) => isCurrentPass(pass, state));
  if (at < 1) return null;
  const points = (part: readonly PassView[]) => part.flatMap((pass) => pass.frames[pass.best]?.point ?? []);
  const [before, after] = [points(passes.slice(0, at)), points(passes.slice(at))];
  const [lastBefore, firstAfter] = [before.at(-1), after[0]];
  if (!lastBefore || !firstAfter) return null;
  const one = (part: readonly BikePoint[]): Decision[] =>
    part.length > 1 ? [{ kind: 'same-rider', points: part }] : [];
  return [...one(before), ...one(after), { kind: 'different-riders', points: [firstAfter, lastBefore] }];
}

/** All of the sheet is right: frames may join, none leaves without a question. */
export function settleDecisions(view: RiderView, fresh: RiderId): readonly Decision[] | null {
  const files = [...new Set(allPasses(view).flatMap((pass) => pass.frames.map((frame) => frame.file)))];
  if (files.length === 0 || view.anchors.length === 0) return null;
  const settled = (rider: RiderId): Decision => ({ kind: 'settled', rider, files });
  if (view.id !== null) return [settled(view.id)];
  return [{ kind: 'rider-minted', rider: fresh, points: view.anchors, shownAs: view.rider.key }, settled(fresh)];
}

export const riderSheet = createStore<RiderSheetState>(NOTHING_MARKED);

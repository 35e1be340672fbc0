/**
 * Dividers + gaps + timetable → sessions, as the cheapest alignment (dynamic programming over cuts; the state is the
 * last slot and how late it ran). Slots are met in order; a slot may be passed over, come again after a stop, or be
 * missing from the timetable altogether.
 */
import { cheapestSegments, type Extension } from '../../numeric/dynamicProgramming.js';
import type { Timetable, TimetableSlot } from '../../plan/types.js';
import { borderCost, type Cut, MINUTE_MS, PRICES, type Shot } from './evidence.js';

/** A person's word: this moment belonged to this group. */
export interface GroupWord {
  readonly at: number;
  readonly group: string;
}

export interface AlignInput {
  readonly shots: readonly Shot[];
  readonly cuts: readonly Cut[];
  readonly timetable: Timetable | null;
  readonly groupWords: readonly GroupWord[];
}

export type SegmentLabel =
  | { readonly kind: 'slot'; readonly slot: number; readonly cost: number; readonly isResumed: boolean }
  | { readonly kind: 'unlisted'; readonly group: string | null }
  | { readonly kind: 'outside' };

export interface AlignedSegment {
  readonly from: number;
  readonly to: number;
  readonly label: SegmentLabel;
}

/**
 * What later segments need to know: the last slot met, between which bounds (whole minutes) it ran late, and how many
 * minutes of it have been ridden: after a stop only the rest is.
 */
interface State {
  readonly slot: number;
  readonly lateFrom: number;
  readonly lateTo: number;
  readonly ridden: number;
  readonly wasOutside: boolean;
}

const NOTHING_YET: State = { slot: -1, lateFrom: 0, lateTo: 0, ridden: 0, wasOutside: false };

/** An open pit lane runs until lunch; where slots are listed, a stop may double one. */
const LONGEST_OPEN_MS = 4 * 3_600_000;
const LONGEST_OF_SLOT = 2.5;
/** One frame without a bike, or not yet measured, is no session: something was tried, or the sky looked odd. */
const LEAST_WEIGHT = 0.95;
const BEAM = 48;
/** A slot is not tried for pictures taken this long before or after its start. */
const MOST_EARLY_MS = 30 * MINUTE_MS;
const MOST_LATE_MS = 150 * MINUTE_MS;

export function alignSessions(input: AlignInput): readonly AlignedSegment[] {
  const { cuts, shots } = input;
  if (shots.length === 0) return [];
  const stretchOf = rememberStretches(input);
  const usesDividers = cuts.some((cut) => cut.dividers.length > 0);
  const borders = cuts.map((cut) => borderCost(cut, usesDividers));
  const slots = input.timetable?.slots ?? [];
  const found = cheapestSegments<State, SegmentLabel>({
    cuts: cuts.length,
    start: NOTHING_YET,
    furthest: (from) => furthestCut(input, from),
    extensions: (from, to) => extensionsBetween(input, slots, borders, stretchOf(from, to), from, to),
    key: keyOf,
    beam: BEAM,
  });
  if (found === null) return [{ from: 0, to: shots.length, label: { kind: 'unlisted', group: null } }];
  return found.segments.map(({ from, to, label }) => ({
    from: cuts[from]!.position,
    to: cuts[to]!.position,
    label,
  }));
}

/** Minutes stay below 500 each: a slot is not tried later than {@link MOST_LATE_MS}, nor far beyond its length. */
const keyOf = ({ slot, lateFrom, lateTo, ridden, wasOutside }: State): number =>
  (((slot + 1) * 500 + lateFrom) * 500 + lateTo) * 1000 + Math.min(ridden, 499) * 2 + (wasOutside ? 1 : 0);

/** Not past a border a person drew, nor further than the longest session anybody runs. */
function furthestCut({ cuts, shots, timetable }: AlignInput, from: number): number {
  const slotLengths = timetable?.slots.map(({ start, end }) => end - start) ?? [];
  const longest = slotLengths.length === 0 ? LONGEST_OPEN_MS : LONGEST_OF_SLOT * Math.max(...slotLengths);
  const start = shots[Math.min(cuts[from]!.position, shots.length - 1)]!.wall;
  let to = from + 1;
  while (to < cuts.length - 1 && cuts[to]!.word !== 'here') {
    if (shots[cuts[to]!.position]!.wall - start > longest) break;
    to++;
  }
  return to;
}

function extensionsBetween(
  input: AlignInput,
  slots: readonly TimetableSlot[],
  borders: readonly number[],
  stretch: Stretch,
  from: number,
  to: number,
): (state: State) => readonly Extension<State, SegmentLabel>[] {
  const first = input.cuts[from]!;
  const end = input.cuts[to]!;
  if (end.position === first.position) return (state) => [{ state, label: { kind: 'outside' }, cost: 0 }];
  const border = first.position === 0 ? 0 : borders[from]!;
  // A border into nowhere has no use for its divider: that belongs to the session that follows.
  const step = first.position === 0 ? 0 : Math.max(border, 0);
  const outside = step + PRICES.outside + PRICES.outsidePerShot * stretch.weight;
  const said = groupSaidWithin(input.groupWords, stretch);
  const base = border + sizeCost(stretch);
  const unlistedPrice = slots.length === 0 || said !== null ? 0 : PRICES.unlistedSession;
  const unlisted =
    base + unlistedPrice + lengthCost(stretch) + (said !== null && slots.length > 0 ? PRICES.slotWithoutPictures : 0);
  const met = slotsToTry(slots, stretch, said).map((k) => metSlot(input.timetable!, slots, k, stretch, first));
  const resumed = first.position === 0 ? 0 : resumedCost(first);
  const isBare = said === null && first.word !== 'here' && stretch.weight < LEAST_WEIGHT;
  return (state) => {
    const found: Extension<State, SegmentLabel>[] = [];
    if (isBare || !state.wasOutside)
      found.push({ state: { ...state, wasOutside: true }, label: { kind: 'outside' }, cost: outside });
    if (isBare) return found;
    found.push({ state: { ...state, wasOutside: false }, label: { kind: 'unlisted', group: said }, cost: unlisted });
    for (const { slot: k, after, fitAfter } of met) {
      if (k < state.slot) continue;
      const fit = fitAfter(state);
      if (fit > 40) continue;
      const isResumed = k === state.slot;
      found.push({
        state: after(state),
        // What a person drew a border through are two sessions, of one slot if need be.
        label: { kind: 'slot', slot: k, cost: fit, isResumed: isResumed && first.word !== 'here' },
        cost: fit + sizeCost(stretch) + (isResumed ? resumed : border + passedOverCost(k - state.slot - 1)),
      });
    }
    return found;
  };
}

function slotsToTry(slots: readonly TimetableSlot[], stretch: Stretch, said: string | null): readonly number[] {
  const tried: number[] = [];
  for (const [k, slot] of slots.entries()) {
    if (slot.start - stretch.start > MOST_EARLY_MS) break;
    if (stretch.start - slot.start > MOST_LATE_MS) continue;
    if (said === null || slot.group === said) tried.push(k);
  }
  return tried;
}

interface MetSlot {
  readonly slot: number;
  after(state: State): State;
  fitAfter(state: State): number;
}

function metSlot(
  timetable: Timetable,
  slots: readonly TimetableSlot[],
  k: number,
  stretch: Stretch,
  first: Cut,
): MetSlot {
  if (timetable.slipRule === 'clock-fixed') {
    // Where slots keep to the clock, what ran before changes nothing.
    const fit = clockFixedCost(slots[k]!, stretch);
    const met: State = { ...NOTHING_YET, slot: k };
    return { slot: k, after: () => met, fitAfter: () => fit };
  }
  const met: State = { ...NOTHING_YET, slot: k, ...lateness(slots[k]!, stretch, first.dividers.length > 0) };
  const whole: State = { ...met, ridden: minutesOf(stretch) };
  return {
    slot: k,
    after: (state) => (state.slot === k ? resumedState(state, slots[k]!, stretch) : whole),
    fitAfter: (state) => slidingCost(slots, state, k, stretch, met),
  };
}

interface Stretch {
  /** Of the divider where there is one, else of the first picture. */
  readonly start: number;
  readonly firstShot: number;
  readonly end: number;
  readonly weight: number;
  readonly shots: number;
}

/** Stretches between two cuts, measured once each; weights by prefix sums. */
function rememberStretches({ shots, cuts }: AlignInput): (from: number, to: number) => Stretch {
  const weightBefore = new Float64Array(shots.length + 1);
  shots.forEach(({ weight }, i) => {
    weightBefore[i + 1] = weightBefore[i]! + weight;
  });
  const known = new Map<number, Stretch>();
  return (from, to) => {
    const key = from * cuts.length + to;
    let stretch = known.get(key);
    if (stretch === undefined) {
      stretch = measure(shots, cuts[from]!, cuts[to]!, weightBefore);
      known.set(key, stretch);
    }
    return stretch;
  };
}

/** A divider taken longer before the first picture says when somebody arrived, not when the session began. */
const DIVIDER_REACH_MS = 12 * MINUTE_MS;

function measure(shots: readonly Shot[], first: Cut, end: Cut, weightBefore: Float64Array): Stretch {
  if (first.position === end.position) return { start: 0, firstShot: 0, end: 0, weight: 0, shots: 0 };
  const firstShot = shots[first.position]!.wall as number;
  const divider = first.dividers.at(-1)?.wall ?? firstShot;
  return {
    start: firstShot - divider < DIVIDER_REACH_MS ? Math.min(divider, firstShot) : firstShot,
    firstShot,
    end: shots[end.position - 1]!.wall,
    weight: weightBefore[end.position]! - weightBefore[first.position]!,
    shots: end.position - first.position,
  };
}

/** Very short or nearly empty stretches are stragglers, not sessions. */
function sizeCost(stretch: Stretch): number {
  const minutes = (stretch.end - stretch.start) / MINUTE_MS;
  return PRICES.shortSession * Math.max(0, 1 - minutes / 4) + PRICES.fewShots * Math.max(0, 1 - stretch.weight / 6);
}

/** Without a slot nothing says how long a session is; twenty-odd minutes is usual. */
function lengthCost(stretch: Stretch): number {
  return Math.max(0, (stretch.end - stretch.start) / MINUTE_MS - 27) * 0.1;
}

interface Lateness {
  readonly lateFrom: number;
  readonly lateTo: number;
}

/** Between which bounds, in whole minutes, this session ran late, as its pictures tell. */
function lateness(slot: TimetableSlot, stretch: Stretch, hasDivider: boolean): Lateness {
  const lateTo = Math.max(0, Math.round((stretch.start - slot.start) / MINUTE_MS));
  if (hasDivider) return { lateFrom: lateTo, lateTo };
  return { lateFrom: Math.min(lateTo, overrun(slot, stretch)), lateTo };
}

/** A stop moves what follows by its own length, where the rest was ridden, or by none, where it was cut off the rest. */
function resumedState(before: State, slot: TimetableSlot, stretch: Stretch): State {
  const lateTo = Math.max(before.lateTo, Math.round((stretch.start - slot.start) / MINUTE_MS) - before.ridden);
  const lateFrom = Math.min(lateTo, Math.max(before.lateFrom, overrun(slot, stretch)));
  return { slot: before.slot, lateFrom, lateTo, ridden: before.ridden + minutesOf(stretch), wasOutside: false };
}

/** Whole minutes. */
const minutesOf = ({ start, end }: Stretch): number => Math.round((end - start) / MINUTE_MS);

/** Whole minutes behind the printed end. */
const overrun = (slot: TimetableSlot, { end }: Stretch): number =>
  Math.max(0, Math.round((end - slot.end) / MINUTE_MS));

/** Nobody takes a divider for a red flag: one that is not there was not forgotten. */
const resumedCost = (cut: Cut): number => PRICES.resumed + borderCost(cut, false);

function clockFixedCost(slot: TimetableSlot, stretch: Stretch): number {
  const startLate = (stretch.start - slot.start) / MINUTE_MS;
  return earlyCost(startLate) + lateCost(startLate) + overCost(slot, stretch);
}

function slidingCost(
  slots: readonly TimetableSlot[],
  state: State,
  k: number,
  stretch: Stretch,
  late: Lateness,
): number {
  const slot = slots[k]!;
  const startLate = (stretch.start - slot.start) / MINUTE_MS;
  // What is ridden after a stop is the rest of the slot, later by the stop.
  if (state.slot === k)
    return lateCost(startLate - state.lateTo - state.ridden) + overLength(slot, stretch, state.ridden);
  const early = earlyCost(startLate);
  if (state.slot < 0)
    return early + lateCost(startLate) + Math.min(overCost(slot, stretch), overLength(slot, stretch, 0));
  const absorbed = pauseBetween(slots, state.slot, k);
  const earlierThanSlip = Math.max(0, state.lateFrom - absorbed - late.lateTo - 1) * PRICES.perMinuteEarlierThanSlip;
  return early + earlierThanSlip + lateCost(startLate - state.lateTo) + overLength(slot, stretch, 0);
}

const earlyCost = (startLate: number): number => Math.max(0, -startLate - 1.5) * PRICES.perMinuteEarly;

const overCost = (slot: TimetableSlot, stretch: Stretch): number =>
  Math.max(0, (stretch.end - slot.end) / MINUTE_MS - 2) * PRICES.perMinuteOver;

/** The longer late, the less each further minute costs, up to a point: a hold, or the photographer came later. */
const lateCost = (minutes: number): number =>
  Math.log1p(Math.max(0, minutes - 2) / 3) + Math.max(0, minutes - 20) * 0.1;

/** Somebody who sat out one slot is likely to have sat out the next as well. */
const passedOverCost = (slots: number): number =>
  slots <= 0 ? 0 : PRICES.slotWithoutPictures + (slots - 1) * PRICES.furtherSlotWithoutPictures;

/** @param ridden minutes before a stop */
function overLength(slot: TimetableSlot, stretch: Stretch, ridden: number): number {
  const left = (slot.end - slot.start) / MINUTE_MS - ridden;
  return Math.max(0, (stretch.end - stretch.start) / MINUTE_MS - left - 2) * PRICES.perMinuteOver;
}

/** Minutes of the timetable between two slots in which nothing runs: lunch swallows slip. */
function pauseBetween(slots: readonly TimetableSlot[], from: number, to: number): number {
  let pause = 0;
  for (let k = from + 1; k <= to; k++) pause += Math.max(0, slots[k]!.start - slots[k - 1]!.end) / MINUTE_MS;
  return pause;
}

function groupSaidWithin(words: readonly GroupWord[], stretch: Stretch): string | null {
  let said: string | null = null;
  for (const word of words) if (word.at >= stretch.start && word.at <= stretch.end) said = word.group;
  return said;
}

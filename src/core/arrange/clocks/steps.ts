/**
 * A clock put right half-way: one body's offset is another before and behind some pause. Only where the
 * dividers or passes of one side do not fit as the day stands, and those of the other do, is that side searched at all, by
 * the same evidence that finds an offset of the whole day. The pause itself may not show in recorded times (an hour taken
 * off at lunch swallows lunch), so of all places that fit alike the widest pause of corrected time is taken.
 *
 * A step is never applied by itself: it is asked, with its reasons.
 */
import type { ClockGuess } from '../correctedTime.js';
import type { RawExposure } from '../exposures.js';
import { type BodyTrack, distanceToNearest } from './evidence.js';
import { type SearchedOffset, type Slots, searchOffset, shareInside, shifted, wholeHours } from './findClocks.js';

/** Nobody mends a clock between two riders. */
const LEAST_PAUSE_MS = 60_000;
const LEAST_BACKWARDS_MS = 2_000;
const MEETS_MS = 20_000;
/** Somebody else took a picture so near in time: the track was in use. */
const RIDING_MS = 90_000;
/** Of a side's dividers: fewer meet than the first where its clock is another, more than the second where it is right. */
const FEW_MEET = 0.34;
const MANY_MEET = 0.6;
/** Without dividers: so many of a side's passes must lie in no slot, and so much must be won. */
const LEAST_PASSES = 60;
const LEAST_SHARE_WON = 0.2;
const LEAST_GAIN = 12;
/** It is only asked, so it need not be as sure as what is applied. */
const ASKED_FROM = 0.7;

/** Recorded times of one stretch, ascending. */
export type StretchTimes = Pick<BodyTrack, 'passes' | 'dividers'>;

/** A body's exposures in the order they were taken, and what is known of stretches of them (both ends in). */
export interface BodyParts {
  readonly exposures: readonly RawExposure[];
  times(from: number, to: number): StretchTimes;
  track(from: number, to: number): BodyTrack;
}

export interface StepSearch {
  /** Another body, put right; null where this body is the one that others are measured by. */
  readonly reference: BodyTrack | null;
  readonly slots: Slots;
  readonly leastLapMs: number;
  /** What the whole body is corrected by now. */
  readonly baseMs: number;
}

/** The two sides of one place; the doubtful one runs by another clock. */
interface Split {
  readonly place: number;
  readonly gapMs: number;
  readonly isDoubtfulBehind: boolean;
}

/** The stretch that most evidence says runs by another clock; null where every stretch fits as it stands. */
export function findStep(body: BodyParts, search: StepSearch): ClockGuess | null {
  if (fitsThroughout(body.times(0, body.exposures.length - 1), search)) return null;
  const splits = splitsOf(body.exposures);
  let best: { readonly found: SearchedOffset; readonly split: Split } | null = null;
  for (const isDoubtfulBehind of [false, true]) {
    const split = mostDoubtful(body, search, splits, isDoubtfulBehind);
    if (split === null) continue;
    const found = searchSide(shifted(body.track(...doubtfulOf(split, body)), search.baseMs), search);
    if (found === null || (best !== null && found.gain <= best.found.gain)) continue;
    const place = placeOfStep(body, search, splits, isDoubtfulBehind, found.offsetMs);
    if (place !== null) best = { found, split: { ...split, place } };
  }
  if (best === null) return null;
  const { found, split } = best;
  return {
    offsetMs: search.baseMs + found.offsetMs,
    confidence: found.confidence,
    reasons: [...found.reasons, `the rest of its pictures fit ${search.baseMs === 0 ? 'as recorded' : 'otherwise'}`],
    isApplied: false,
    stretch: stretchOf(body.exposures, ...doubtfulOf(split, body)),
  };
}

/** Too little is amiss in all for any side to be doubtful: an ordinary day ends here. */
function fitsThroughout(times: StretchTimes, { reference, slots, baseMs }: StepSearch): boolean {
  const alone = hasDividers(times, reference)
    ? Math.round((1 - shareThatMeets(times, baseMs, reference!)) * times.dividers.length)
    : 0;
  const outside = slots.length === 0 ? 0 : (1 - shareInside(times.passes, slots, baseMs)) * times.passes.length;
  return alone < 2 && outside < LEAST_SHARE_WON * LEAST_PASSES - 1;
}

const doubtfulOf = ({ place, isDoubtfulBehind }: Pick<Split, 'place' | 'isDoubtfulBehind'>, body: BodyParts) =>
  (isDoubtfulBehind ? [place, body.exposures.length - 1] : [0, place - 1]) as readonly [number, number];

/** Where one side fits least and the other well: how many dividers or passes say so. */
function mostDoubtful(
  body: BodyParts,
  search: StepSearch,
  splits: readonly Omit<Split, 'isDoubtfulBehind'>[],
  isDoubtfulBehind: boolean,
): Split | null {
  let best: { readonly split: Split; readonly worth: number } | null = null;
  for (const each of splits) {
    const split = { ...each, isDoubtfulBehind };
    const doubtful = fitOf(body.times(...doubtfulOf(split, body)), search.baseMs, search);
    const other = fitOf(
      body.times(...doubtfulOf({ ...split, isDoubtfulBehind: !isDoubtfulBehind }, body)),
      search.baseMs,
      search,
    );
    if (doubtful === null || other === null || doubtful.isGood || !doubtful.isBad || !other.isGood) continue;
    const worth = doubtful.of - doubtful.fitting + other.fitting;
    if (best === null || worth > best.worth) best = { split, worth };
  }
  return best?.split ?? null;
}

/**
 * Where most fits with each side by its own clock: dividers first, then passes while somebody was riding; of equal places
 * the widest pause. Time never runs backwards there: nobody takes two pictures in the wrong order.
 */
function placeOfStep(
  body: BodyParts,
  search: StepSearch,
  splits: readonly Omit<Split, 'isDoubtfulBehind'>[],
  isDoubtfulBehind: boolean,
  offsetMs: number,
): number | null {
  const stepMs = isDoubtfulBehind ? offsetMs : -offsetMs;
  const worthOf = (place: number, isBehind: boolean, offset: number): readonly [dividers: number, passes: number] => {
    const times = body.times(...doubtfulOf({ place, isDoubtfulBehind: isBehind }, body));
    return [fitOf(times, offset, search)?.fitting ?? 0, ridingPasses(times, offset, search)];
  };
  let best: { readonly place: number; readonly worth: readonly number[] } | null = null;
  for (const { place, gapMs } of splits) {
    if (gapMs + stepMs < 0) continue;
    const own = worthOf(place, isDoubtfulBehind, search.baseMs + offsetMs);
    const other = worthOf(place, !isDoubtfulBehind, search.baseMs);
    const worth = [own[0] + other[0], own[1] + other[1], gapMs];
    if (best === null || isMore(worth, best.worth)) best = { place, worth };
  }
  return best?.place ?? null;
}

/** By the first number that differs. */
function isMore(a: readonly number[], b: readonly number[]): boolean {
  const k = a.findIndex((value, i) => value !== b[i]);
  return k !== -1 && a[k]! > b[k]!;
}

function ridingPasses({ passes }: StretchTimes, offsetMs: number, { reference, slots }: StepSearch): number {
  if (slots.length > 0) return Math.round(shareInside(passes, slots, offsetMs) * passes.length);
  if (reference === null) return 0;
  return passes.filter((time) => distanceToNearest(reference.passes, time + offsetMs) < RIDING_MS).length;
}

function stretchOf(exposures: readonly RawExposure[], from: number, to: number): NonNullable<ClockGuess['stretch']> {
  return {
    frames: to - from + 1,
    ...(from === 0 ? {} : { fromFrame: exposures[from]!.frameId }),
    ...(to === exposures.length - 1 ? {} : { toFrame: exposures[to]!.frameId }),
  };
}

/** Places before which a clock may have been mended: pauses, changes of card, and where recorded time runs backwards. */
function splitsOf(exposures: readonly RawExposure[]): readonly Omit<Split, 'isDoubtfulBehind'>[] {
  const found: { readonly place: number; readonly gapMs: number }[] = [];
  let before: { readonly recorded: number; readonly fill: string } | null = null;
  exposures.forEach(({ recorded, fill }, place) => {
    if (typeof recorded !== 'number') return;
    const gapMs = before === null ? 0 : recorded - before.recorded;
    const isNewCard = before !== null && before.fill !== fill;
    if (gapMs >= LEAST_PAUSE_MS || gapMs <= -LEAST_BACKWARDS_MS || isNewCard) found.push({ place, gapMs });
    before = { recorded, fill };
  });
  return found;
}

interface Fit {
  readonly fitting: number;
  readonly of: number;
  readonly isGood: boolean;
  readonly isBad: boolean;
}

/** Dividers that meet the reference's, else passes that lie in slots; null: nothing says. */
function fitOf(side: StretchTimes, offsetMs: number, { reference, slots }: StepSearch): Fit | null {
  if (hasDividers(side, reference)) {
    const share = shareThatMeets(side, offsetMs, reference!);
    const of = side.dividers.length;
    return { fitting: Math.round(share * of), of, isGood: share >= MANY_MEET, isBad: share <= FEW_MEET };
  }
  if (slots.length === 0 || side.passes.length < LEAST_PASSES) return null;
  const share = shareInside(side.passes, slots, offsetMs);
  const of = side.passes.length;
  return { fitting: Math.round(share * of), of, isGood: share >= 0.9, isBad: share <= 1 - LEAST_SHARE_WON };
}

const hasDividers = (side: StretchTimes, reference: BodyTrack | null): boolean =>
  reference !== null && reference.dividers.length > 1 && side.dividers.length > 1;

function shareThatMeets(side: StretchTimes, offsetMs: number, reference: BodyTrack): number {
  const meeting = side.dividers.filter(
    (time) => distanceToNearest(reference.dividers, time + offsetMs) < MEETS_MS,
  ).length;
  return meeting / side.dividers.length;
}

function searchSide(side: BodyTrack, search: StepSearch): SearchedOffset | null {
  const { reference, slots, leastLapMs } = search;
  if (side.passes.length === 0) return null;
  const found = reference === null ? wholeHours(side, slots) : searchOffset(reference, side, slots, leastLapMs);
  if (found === null || found.confidence < ASKED_FROM) return null;
  if (reference === null) return found.gain >= LEAST_SHARE_WON ? found : null;
  if (!hasDividers(side, reference)) return found.gain >= LEAST_GAIN ? found : null;
  return shareThatMeets(side, found.offsetMs, reference) >= MANY_MEET ? found : null;
}

/**
 * Offsets between body clocks, found from the pictures: a search over whole hours, over every way of laying one
 * body's dividers on the other's, and over the day in steps of 15 s; the best few are then looked at to the second.
 *
 * A guess is applied at once when it is sure ({@link APPLIED_FROM}), so that the day looks right, and is marked as
 * guessed and asked all the same. What a person said about a body is never touched.
 */
import type { BodyKey } from '../../ids.js';
import type { Timetable } from '../../plan/types.js';
import type { ClockGuess } from '../correctedTime.js';
import { dotRows, dotRowWithMany } from '../descriptors.js';
import {
  Activity,
  BinTally,
  type BodyTrack,
  distanceToNearest,
  dividerFit,
  type LikePair,
  PAIR_WINDOW_MS,
  pairFit,
} from './evidence.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const COARSE_MS = 15_000;
const FURTHEST_MS = 14 * HOUR_MS;
/** Candidates looked at to the second. */
const CANDIDATES = 12;
/** So far from a candidate the fine search goes. */
const FINE_REACH_MS = 90_000;
const FINE_MS = 1000;
/** Nats by which an offset must beat "no offset" to be worth a question. */
const LEAST_GAIN = 6;
/** Less than this is the time from one body's divider to the other's, not a clock. */
const LEAST_OFFSET_MS = 10_000;
/** Without dividers, less than this may be the way from one spot to the other. */
const LEAST_OFFSET_BY_LAPS_MS = 120_000;
export const APPLIED_FROM = 0.9;
/** Evidence of one day is not independent; its nats are halved before they become a chance. */
const TEMPER = 0.5;
const MOST_PASSES = 250;
/** Look-alike pairs of one rider say the same thing several times over; and they only help dividers to choose. */
const LAP_WEIGHT = 0.25;
const MOST_FROM_LAPS = 15;

export interface ClockSearch {
  /** Of each body what nobody spoke about; all of it where somebody spoke about all. */
  readonly tracks: ReadonlyMap<BodyKey, BodyTrack>;
  /** Of each body everything, with what people said. */
  readonly whole: ReadonlyMap<BodyKey, BodyTrack>;
  /** Bodies whose clock a person put right, all day. */
  readonly said: ReadonlySet<BodyKey>;
  /** Bodies of which a person put a stretch right. */
  readonly partlySaid: ReadonlySet<BodyKey>;
  readonly timetable: Timetable | null;
  readonly leastLapMs: number;
}

export interface FoundClocks {
  readonly guesses: ReadonlyMap<BodyKey, ClockGuess>;
  /** The body the others were measured by, and its track as put right; null without any pass. */
  readonly reference: { readonly body: BodyKey; readonly track: BodyTrack } | null;
}

export function findClocks(search: ClockSearch): FoundClocks {
  const guesses = new Map<BodyKey, ClockGuess>();
  const bodies = [...search.whole.keys()].filter((body) => search.whole.get(body)!.passes.length > 0).sort();
  const reference = chooseReference(bodies, search);
  if (reference === null) return { guesses, reference };
  const slots = slotsOf(search.timetable);
  const first = search.whole.get(reference)!;
  const own = search.tracks.get(reference)!;
  const whole = search.said.has(reference) || own.passes.length === 0 ? null : wholeHours(own, slots);
  if (whole !== null) guesses.set(reference, whole);
  const base = whole?.isApplied === true && !search.partlySaid.has(reference) ? whole.offsetMs : 0;
  const corrected = base === 0 ? first : shifted(first, base);
  for (const body of bodies) {
    if (body === reference || search.said.has(body) || search.tracks.get(body)!.passes.length === 0) continue;
    const guess = searchOffset(corrected, search.tracks.get(body)!, slots, search.leastLapMs);
    if (guess !== null) guesses.set(body, guess);
  }
  return { guesses, reference: { body: reference, track: corrected } };
}

/** A guess and what it wins over no offset: nats, or the share of passes that come to lie in slots. */
export interface SearchedOffset extends ClockGuess {
  readonly gain: number;
}

export type Slots = readonly (readonly [from: number, to: number])[];

export const slotsOf = (timetable: Timetable | null): Slots =>
  timetable?.slots.map(({ start, end }) => [start, end + 5 * 60_000] as const) ?? [];

/** A body whose clock a person vouched for; else the one that fits the timetable best; else the one used most. */
function chooseReference(bodies: readonly BodyKey[], search: ClockSearch): BodyKey | null {
  const slots = slotsOf(search.timetable);
  const worth = (body: BodyKey): number => {
    const { passes } = search.whole.get(body)!;
    const isSaid = search.said.has(body) ? 10 : 0;
    return isSaid + (slots.length === 0 ? 0 : 2 * shareInside(passes, slots, 0)) + passes.length / 1e6;
  };
  return bodies.reduce<BodyKey | null>(
    (best, body) => (best === null || worth(body) > worth(best) ? body : best),
    null,
  );
}

export function shareInside(times: Float64Array, slots: Slots, offset: number): number {
  let inside = 0;
  for (const time of times) if (slots.some(([from, to]) => time + offset >= from && time + offset <= to)) inside++;
  return inside / Math.max(1, times.length);
}

export function shifted(track: BodyTrack, offset: number): BodyTrack {
  return {
    ...track,
    passes: track.passes.map((t) => t + offset),
    dividers: track.dividers.map((t) => t + offset),
  };
}

/**
 * A single body can only be told whole days (a date set wrong) and whole hours (a time zone, summer time): by its
 * pictures outside every slot.
 */
export function wholeHours(track: BodyTrack, slots: Slots): SearchedOffset | null {
  if (slots.length === 0) return null;
  const now = shareInside(track.passes, slots, 0);
  if (now > 0.9) return null;
  let best = { offset: 0, share: now };
  let second = now;
  for (const days of daysToTry(track, slots))
    for (let hours = -14; hours <= 14; hours++) {
      const offset = days * DAY_MS + hours * HOUR_MS;
      if (offset === 0) continue;
      const share = shareInside(track.passes, slots, offset);
      if (share > best.share) {
        second = best.share;
        best = { offset, share };
      } else second = Math.max(second, share);
    }
  const gain = best.share - now;
  if (gain < 0.05 || best.share < 0.9) return null;
  const confidence = Math.min(0.97, 0.5 + 5 * (best.share - second));
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  return {
    offsetMs: best.offset,
    confidence,
    reasons: [`${percent(best.share)} of its passes then lie in slots of the timetable, now ${percent(now)}`],
    isApplied: confidence >= APPLIED_FROM,
    gain,
  };
}

/** None, and those that bring the first pass to the day of a slot. */
function daysToTry(track: BodyTrack, slots: Slots): readonly number[] {
  const dayOf = (wall: number): number => Math.floor(wall / DAY_MS);
  const first = dayOf(track.passes[0]!);
  return [...new Set([0, ...slots.map(([from]) => dayOf(from) - first)])];
}

interface Candidate {
  readonly offset: number;
  readonly fit: number;
}

export function searchOffset(a: BodyTrack, b: BodyTrack, slots: Slots, leastLapMs: number): SearchedOffset | null {
  const activity = new Activity(a.passes, slots);
  const bins = new BinTally(b.passes);
  const dayMs = Math.max(6 * HOUR_MS, a.passes.at(-1)! - a.passes[0]!);
  const coarse = (offset: number): number =>
    activity.fit(bins, offset) + dividerFit(a.dividers, b.dividers, offset, dayMs);
  const candidates = bestApart(offsetsToTry(a, b).map((offset) => ({ offset, fit: coarse(offset) })));
  const pairs = likePairs(a, b, [{ offset: 0, fit: 0 }, ...candidates], leastLapMs);
  const hasDividers = a.dividers.length > 1 && b.dividers.length > 1;
  const fine = (offset: number): number =>
    coarse(offset) + roundness(offset) + (hasDividers ? 0 : pairFit(pairs, offset, leastLapMs));
  // Two bodies at two spots see a rider the way between them apart: the lap then tells which hour, not which second.
  const lapFit = (offset: number): number => {
    if (!hasDividers) return 0;
    const best = bestNear(offset, (o) => pairFit(pairs, o, leastLapMs));
    return Math.max(-MOST_FROM_LAPS, Math.min(MOST_FROM_LAPS, LAP_WEIGHT * best));
  };
  const refined = [0, ...candidates.map(({ offset }) => offset)].map((offset, i) => {
    const found = i === 0 ? { offset, fit: fine(0) } : climb(offset, fine);
    return { ...found, fit: found.fit + lapFit(found.offset) };
  });
  const best = refined.reduce((top, next) => (next.fit > top.fit ? next : top));
  const gain = best.fit - refined[0]!.fit;
  if (gain < LEAST_GAIN || Math.abs(best.offset) < (hasDividers ? LEAST_OFFSET_MS : LEAST_OFFSET_BY_LAPS_MS))
    return null;
  const rivals = refined.filter(({ offset }) => Math.abs(offset - best.offset) > 5000);
  const confidence = 1 / (1 + rivals.reduce((sum, { fit }) => sum + Math.exp(TEMPER * (fit - best.fit)), 0));
  return {
    offsetMs: best.offset,
    confidence,
    reasons: reasonsFor(a, b, best.offset, pairs, slots),
    isApplied: confidence >= APPLIED_FROM,
    gain,
  };
}

/** Whole hours come from time zones and summer time, whole minutes from setting a clock by hand: a mild preference. */
function roundness(offset: number): number {
  if (offset % HOUR_MS === 0) return 3;
  return offset % 60_000 === 0 ? 1.5 : 0;
}

function offsetsToTry(a: BodyTrack, b: BodyTrack): readonly number[] {
  const days = DAY_MS * Math.round((a.passes[a.passes.length >> 1]! - b.passes[b.passes.length >> 1]!) / DAY_MS);
  const offsets = new Set<number>();
  for (const base of new Set([0, days]))
    for (let step = -FURTHEST_MS; step <= FURTHEST_MS; step += COARSE_MS) offsets.add(base + step);
  for (const one of a.dividers) for (const other of b.dividers) offsets.add(Math.round((one - other) / 1000) * 1000);
  return [...offsets];
}

/** The best candidates, no two of them within reach of one fine search. */
function bestApart(list: readonly Candidate[]): readonly Candidate[] {
  const kept: Candidate[] = [];
  for (const candidate of [...list].sort((x, y) => y.fit - x.fit || Math.abs(x.offset) - Math.abs(y.offset))) {
    if (kept.length === CANDIDATES) break;
    if (kept.every(({ offset }) => Math.abs(offset - candidate.offset) > FINE_REACH_MS)) kept.push(candidate);
  }
  return kept;
}

function bestNear(offset: number, worthAt: (offset: number) => number): number {
  let best = Number.NEGATIVE_INFINITY;
  for (let step = -60_000; step <= 60_000; step += 2000) best = Math.max(best, worthAt(offset + step));
  return best;
}

/** The best offset near a candidate, on whole seconds: clocks are set in seconds, and evidence is no finer. */
function climb(start: number, worthAt: (offset: number) => number): Candidate {
  let best: Candidate = { offset: start, fit: worthAt(start) };
  for (let step = -FINE_REACH_MS; step <= FINE_REACH_MS; step += FINE_MS) {
    const offset = start + step;
    const value = worthAt(offset);
    if (value > best.fit) best = { offset, fit: value };
  }
  const around = [-1000, 0, 1000].map((d) => Math.round((best.offset + d) / 1000) * 1000);
  return around
    .map((offset) => ({ offset, fit: worthAt(offset) }))
    .reduce((top, next) => (next.fit > top.fit ? next : top));
}

/** For a spread of the other body's passes: whom of the reference's near any candidate they look most like. */
function likePairs(
  a: BodyTrack,
  b: BodyTrack,
  candidates: readonly Candidate[],
  leastLapMs: number,
): readonly LikePair[] {
  if (a.dimensions === 0 || a.dimensions !== b.dimensions) return [];
  const stride = Math.max(1, Math.floor(b.passes.length / MOST_PASSES));
  const laps = new Map<number, number | null>();
  const pairs: LikePair[] = [];
  const threshold = impossibleLikeness(a, leastLapMs);
  const likenesses = new Float64Array(a.passes.length);
  for (let q = 0; q < b.passes.length; q += stride) {
    const near = passesNear(a, b.passes[q]!, candidates);
    dotRowWithMany(b.looks, q, a.looks, near, a.dimensions, likenesses);
    for (const m of threeLargest(likenesses, near.length)) {
      const p = near[m]!;
      const likeness = likenesses[m]!;
      const isSame = sameChance(likeness, threshold);
      if (isSame < 0.05) continue;
      if (!laps.has(p)) laps.set(p, lapOf(a, p, threshold, leastLapMs));
      pairs.push({ apartMs: a.passes[p]! - b.passes[q]!, isSame, lapMs: laps.get(p)! });
    }
  }
  return pairs;
}

/** Places of the three largest, largest first; of equal ones the earlier. */
function threeLargest(values: Float64Array, count: number): readonly number[] {
  const top: number[] = [];
  for (let m = 0; m < count; m++) {
    const at = top.findIndex((other) => values[m]! > values[other]!);
    if (at === -1 && top.length === 3) continue;
    top.splice(at === -1 ? top.length : at, 0, m);
    if (top.length > 3) top.pop();
  }
  return top;
}

/** Logistic in the likeness, around the day's 97th percentile of pairs that cannot be one bike; never more than even. */
const sameChance = (likeness: number, threshold: number): number => 0.9 / (1 + Math.exp(-12 * (likeness - threshold)));

function passesNear(a: BodyTrack, time: number, candidates: readonly Candidate[]): readonly number[] {
  const found = new Set<number>();
  for (const { offset } of candidates) {
    const middle = time + offset;
    for (let p = firstAfter(a.passes, middle - PAIR_WINDOW_MS); p < a.passes.length; p++) {
      if (a.passes[p]! > middle + PAIR_WINDOW_MS) break;
      found.add(p);
    }
  }
  return [...found];
}

function firstAfter(sorted: Float64Array, time: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < time) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Likeness that 97 % of neighbouring, hence different, passes stay below. */
function impossibleLikeness(a: BodyTrack, leastLapMs: number): number {
  const values: number[] = [];
  const stride = Math.max(1, Math.floor(a.passes.length / 600));
  for (let p = 0; p < a.passes.length; p += stride)
    for (let q = p + 1; q < Math.min(a.passes.length, p + 5); q++) {
      const gap = a.passes[q]! - a.passes[p]!;
      if (gap > 2000 && gap < leastLapMs) values.push(dotRows(a.looks, p, a.looks, q, a.dimensions));
    }
  values.sort((x, y) => x - y);
  return Math.max(0.15, values[Math.floor(values.length * 0.97)] ?? 0.4);
}

/** This rider's lap as the same body saw it: the nearest look-alike one lap before or behind. */
function lapOf(a: BodyTrack, p: number, threshold: number, leastLapMs: number): number | null {
  let best: { likeness: number; gap: number } | null = null;
  for (const direction of [-1, 1])
    for (let q = p + direction; q >= 0 && q < a.passes.length; q += direction) {
      const gap = Math.abs(a.passes[q]! - a.passes[p]!);
      if (gap > 2 * leastLapMs) break;
      if (gap < leastLapMs) continue;
      const likeness = dotRows(a.looks, p, a.looks, q, a.dimensions);
      if (likeness > threshold && (best === null || likeness > best.likeness)) best = { likeness, gap };
    }
  return best === null ? null : best.gap;
}

function reasonsFor(
  a: BodyTrack,
  b: BodyTrack,
  offset: number,
  pairs: readonly LikePair[],
  slots: Slots,
): readonly string[] {
  const reasons: string[] = [];
  const matched = [...b.dividers].filter((t) => distanceToNearest(a.dividers, t + offset) < 15_000).length;
  if (matched > 0) reasons.push(`${matched} of its ${b.dividers.length} dividers then meet one of the other body`);
  const rhythm = pairs.filter(({ apartMs, isSame, lapMs }) => {
    const gap = Math.abs(apartMs - offset);
    if (isSame < 0.5 || gap > PAIR_WINDOW_MS) return false;
    if (gap < 1500) return true;
    return lapMs !== null && gap > 0.5 * lapMs && Math.abs(gap - Math.round(gap / lapMs) * lapMs) < 0.04 * lapMs;
  }).length;
  if (rhythm > 0) reasons.push(`${rhythm} look-alike passes of both bodies then lie whole laps apart`);
  if (slots.length > 0)
    reasons.push(`${Math.round(100 * shareInside(b.passes, slots, offset))} % of its passes then lie in slots`);
  return reasons;
}

/** One track per body for the search of clock offsets. */
import type { BodyKey } from '../../ids.js';
import type { Timetable } from '../../plan/types.js';
import type { WallMs } from '../../units.js';
import { bodiesOf, type ClockDecision, type ClockGuess, correctTimes, placesOf } from '../correctedTime.js';
import { normaliseRows } from '../descriptors.js';
import type { SeenDay } from '../passesOfDay.js';
import { lapRule } from '../riders/cannotBeOne.js';
import { shootingOrder } from '../shootingOrder.js';
import type { BodyTrack } from './evidence.js';
import { findClocks, slotsOf } from './findClocks.js';
import { type BodyParts, findStep } from './steps.js';

export interface GuessedClocks {
  readonly guesses: ReadonlyMap<BodyKey, ClockGuess>;
  /** Stretches of a body that seem to run by another clock than the rest of it. */
  readonly steps: readonly (ClockGuess & { readonly body: BodyKey })[];
}

/** What nobody spoke about of one body: its exposures in the order they were taken. */
interface OwnFrames {
  readonly body: BodyKey;
  readonly free: readonly number[];
  readonly isPartlySaid: boolean;
}

/** Offsets found from the pictures; none for frames that a person put right. */
export function guessClocks(day: SeenDay, said: readonly ClockDecision[], timetable: Timetable | null): GuessedClocks {
  const { walls } = correctTimes(day.exposures, said, new Map());
  const own = [...bodiesOf(day.exposures)].map(([body, indices]) => ownFrames(body, indices, day, said));
  const { leastLapMs } = lapRule(timetable?.fastestLapMs ?? null);
  const whole = new Map(own.map(({ body }) => [body, trackOf(body, day, walls, null)]));
  const tracks = new Map(
    own.map(({ body, free, isPartlySaid }) => [
      body,
      isPartlySaid ? trackOf(body, day, walls, new Set(free)) : whole.get(body)!,
    ]),
  );
  const { guesses, reference } = findClocks({
    tracks,
    whole,
    said: new Set(own.filter(({ free }) => free.length === 0).map(({ body }) => body)),
    partlySaid: new Set(own.filter(({ isPartlySaid }) => isPartlySaid).map(({ body }) => body)),
    timetable,
    leastLapMs,
  });
  const slots = slotsOf(timetable);
  const steps = own.flatMap(({ body, free }) => {
    const guess = guesses.get(body);
    const step = findStep(partsOf(body, free, day, walls), {
      reference: reference === null || reference.body === body ? null : reference.track,
      slots,
      leastLapMs,
      baseMs: guess?.isApplied === true ? guess.offsetMs : 0,
    });
    return step === null ? [] : [{ ...step, body }];
  });
  return { guesses: new Map(own.flatMap((frames) => aboutWhat(frames, guesses, day))), steps };
}

function ownFrames(body: BodyKey, indices: readonly number[], day: SeenDay, said: readonly ClockDecision[]): OwnFrames {
  const order = shootingOrder(indices.map((i) => day.exposures[i]!)).map((k) => indices[k]!);
  const isSpoken = new Uint8Array(order.length);
  for (const decision of said) {
    if (decision.body !== body) continue;
    const [from, to] = placesOf(decision, order, day.exposures);
    isSpoken.fill(1, from, to + 1);
  }
  const free = order.filter((_, place) => isSpoken[place] === 0);
  return { body, free, isPartlySaid: free.length > 0 && free.length < order.length };
}

/** A guess beside a person's word is about the other frames only, and says so. */
function aboutWhat(
  { body, free, isPartlySaid }: OwnFrames,
  guesses: ReadonlyMap<BodyKey, ClockGuess>,
  { exposures }: SeenDay,
): [BodyKey, ClockGuess][] {
  const guess = guesses.get(body);
  if (guess === undefined) return [];
  if (!isPartlySaid) return [[body, guess]];
  const [first, last] = [free[0]!, free.at(-1)!];
  const stretch = { fromFrame: exposures[first]!.frameId, toFrame: exposures[last]!.frameId, frames: free.length };
  return [[body, { ...guess, stretch }]];
}

function partsOf(body: BodyKey, free: readonly number[], day: SeenDay, walls: readonly (WallMs | null)[]): BodyParts {
  const placeOf = new Map(free.map((i, place) => [i, place]));
  const passes = day.passes.flatMap((bikes) => {
    const exposure = day.bikes.exposure[bikes[0]!]!;
    const place = placeOf.get(exposure);
    return place === undefined ? [] : [{ place, time: walls[exposure]! as number }];
  });
  const dividers = free.flatMap((i, place) => {
    const wall = walls[i];
    return day.roles[i] === 'divider' && wall != null ? [{ place, time: wall as number }] : [];
  });
  return {
    exposures: free.map((i) => day.exposures[i]!),
    times: (from, to) => ({ passes: timesWithin(passes, from, to), dividers: timesWithin(dividers, from, to) }),
    track: (from, to) => trackOf(body, day, walls, new Set(free.slice(from, to + 1))),
  };
}

const timesWithin = (
  all: readonly { readonly place: number; readonly time: number }[],
  from: number,
  to: number,
): Float64Array =>
  Float64Array.from(
    all.filter(({ place }) => place >= from && place <= to),
    ({ time }) => time,
  ).sort();

/** @param only exposures to look at, null for all of this body */
function trackOf(
  body: BodyKey,
  day: SeenDay,
  walls: readonly (WallMs | null)[],
  only: ReadonlySet<number> | null,
): BodyTrack {
  const isIn = (exposure: number): boolean => only === null || only.has(exposure);
  const d = day.bikes.dimensions;
  const timeOf = (bike: number): number => walls[day.bikes.exposure[bike]!]!;
  const own = day.passes
    .filter((bikes) => {
      const first = day.bikes.exposure[bikes[0]!]!;
      return day.exposures[first]!.body === body && isIn(first);
    })
    .map((bikes) => ({ bikes, time: (timeOf(bikes[0]!) + timeOf(bikes.at(-1)!)) / 2 }))
    .sort((a, b) => a.time - b.time);
  const dividers = day.exposures.flatMap((exposure, i) => {
    const wall = walls[i];
    return exposure.body === body && isIn(i) && day.roles[i] === 'divider' && wall != null ? [wall as number] : [];
  });
  return {
    passes: Float64Array.from(own, ({ time }) => time),
    looks: pooled(own, day, d),
    dimensions: d,
    dividers: Float64Array.from(dividers).sort(),
  };
}

function pooled(own: readonly { readonly bikes: readonly number[] }[], day: SeenDay, d: number): Float32Array {
  const rows = new Float32Array(own.length * d);
  own.forEach(({ bikes }, p) => {
    for (const i of bikes)
      for (let k = 0; k < d; k++) rows[p * d + k] = rows[p * d + k]! + day.bikes.descriptors[i * d + k]!;
  });
  normaliseRows(rows, d);
  const mean = new Float64Array(d);
  for (let p = 0; p < own.length; p++) for (let k = 0; k < d; k++) mean[k] = mean[k]! + rows[p * d + k]! / own.length;
  for (let p = 0; p < own.length; p++) for (let k = 0; k < d; k++) rows[p * d + k] = rows[p * d + k]! - mean[k]!;
  normaliseRows(rows, d);
  return rows;
}

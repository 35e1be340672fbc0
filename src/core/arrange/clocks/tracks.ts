/** One track per body for the search of clock offsets. */
import type { BodyKey } from '../../ids.js';
import type { Timetable } from '../../plan/types.js';
import type { WallMs } from '../../units.js';
import { bodiesOf, type ClockDecision, type ClockGuess, correctTimes } from '../correctedTime.js';
import { normaliseRows } from '../descriptors.js';
import type { SeenDay } from '../passesOfDay.js';
import { LAP_SHARE, LEAST_LAP_MS } from '../riders/cannotBeOne.js';
import type { BodyTrack } from './evidence.js';
import { findClocks } from './findClocks.js';

/** Offsets found from the pictures; none for bodies that a person put right. */
export function guessClocks(
  day: SeenDay,
  said: readonly ClockDecision[],
  timetable: Timetable | null,
): ReadonlyMap<BodyKey, ClockGuess> {
  const { walls } = correctTimes(day.exposures, said, new Map());
  return findClocks({
    tracks: new Map([...bodiesOf(day.exposures).keys()].map((body) => [body, trackOf(body, day, walls)])),
    said: new Set(said.map(({ body }) => body)),
    timetable,
    leastLapMs: Math.max(LEAST_LAP_MS, LAP_SHARE * (timetable?.fastestLapMs ?? 0)),
  });
}

function trackOf(body: BodyKey, day: SeenDay, walls: readonly (WallMs | null)[]): BodyTrack {
  const d = day.bikes.dimensions;
  const timeOf = (bike: number): number => walls[day.bikes.exposure[bike]!]!;
  const own = day.passes
    .filter((bikes) => day.exposures[day.bikes.exposure[bikes[0]!]!]!.body === body)
    .map((bikes) => ({ bikes, time: (timeOf(bikes[0]!) + timeOf(bikes.at(-1)!)) / 2 }))
    .sort((a, b) => a.time - b.time);
  const dividers = day.exposures.flatMap((exposure, i) => {
    const wall = walls[i];
    return exposure.body === body && day.roles[i] === 'divider' && wall != null ? [wall as number] : [];
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

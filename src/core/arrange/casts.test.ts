/** Two bodies of which each gives bikes its own colours, in the hands of one photographer. */
import { describe, expect, it } from 'vitest';
import { hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import { eyeOf } from '../../../tools/accuracy/person.js';
import { placedBikes, scoreRiders } from '../../../tools/accuracy/ridersScore.js';
import type { FrameId } from '../ids.js';
import { codesOf } from '../measure/describeBike.js';
import type { FrameMeasurement } from '../measure/types.js';
import { seededRandom } from '../numeric/random.js';
import { arrange } from './index.js';

const day = syntheticDay({ ...hardDay('s74', 2), groups: ORDINARY_DAY.groups });

/** In units of a descriptor's own length: a warm body beside a cold one. */
const CAST = 0.6;

function withCasts(): ReadonlyMap<FrameId, FrameMeasurement> {
  const random = seededRandom(5);
  const casts = new Map<string, Float64Array>();
  const castOf = (body: string, length: number): Float64Array => {
    const known = casts.get(body) ?? unit(Float64Array.from({ length }, () => random.normal()));
    casts.set(body, known);
    return known;
  };
  const bodyOf = new Map(day.input.files.map(({ metadata }) => [metadata.frameId, metadata.body.serial ?? '']));
  return new Map(
    [...day.input.pixels].map(([frameId, frame]): [FrameId, FrameMeasurement] => {
      if (frame.kind !== 'measured') return [frameId, frame];
      const subjects = frame.subjects.map((subject) => {
        const own = unit(Float64Array.from(codesOf(subject.descriptor)));
        const cast = castOf(bodyOf.get(frameId)!, own.length);
        const seen = unit(own.map((value, k) => value + CAST * cast[k]!));
        const codes = Int8Array.from(seen, (value) => Math.max(-127, Math.min(127, Math.round(value * 381))));
        return { ...subject, descriptor: Buffer.from(codes.buffer).toString('base64') };
      });
      return [frameId, { ...frame, subjects }];
    }),
  );
}

function unit(vector: Float64Array): Float64Array {
  const length = Math.hypot(...vector);
  return vector.map((value) => value / length);
}

describe('two bodies with colours of their own', () => {
  it('AR37: leave riders nearly as whole as two that are alike', () => {
    expect(new Set(day.input.files.map(({ metadata }) => metadata.body.serial)).size).toBe(2);
    const eye = eyeOf(day);
    const alike = scoreRiders(placedBikes(arrange(day.input), eye));
    const cast = scoreRiders(placedBikes(arrange({ ...day.input, pixels: withCasts() }), eye));
    expect(alike.riders.f1).toBeGreaterThan(0.95);
    expect(cast.riders.f1).toBeGreaterThan(alike.riders.f1 - 0.03);
    expect(cast.wrongShare).toBeLessThan(0.01);
  });
});

import { describe, expect, it } from 'vitest';
import { hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { Box, Subject } from '../measure/types.js';
import type { Bikes } from './bikes.js';
import { arrange } from './index.js';
import { findStanding } from './standing.js';

const NEAR: Box = [0.3, 0.3, 0.3, 0.5];
const FAR: Box = [0.8, 0.1, 0.15, 0.18];

/** Every picture shows one main bike of its own look and one bike behind it. */
function bikesOf(behind: readonly { readonly look: number; readonly box?: Box; readonly riderBox?: Box }[]): Bikes {
  const rows = behind.flatMap((one, frame) => [
    { frame, look: 10 + frame, box: NEAR, isMain: true },
    { frame, box: FAR, isMain: false, ...one },
  ]);
  const dimensions = 10 + behind.length;
  const descriptors = new Float32Array(rows.length * dimensions);
  rows.forEach(({ look }, i) => {
    descriptors[i * dimensions + look] = 1;
  });
  return {
    count: rows.length,
    exposure: Int32Array.from(rows, ({ frame }) => frame),
    subject: Int32Array.from(rows, (_, i) => i % 2),
    dimensions,
    descriptors,
    subjects: rows.map(({ box, isMain, ...row }) => ({ box, isMain, ...row }) as unknown as Subject),
  };
}

const oneBurstEach = (count: number) => Int32Array.from({ length: count }, (_, i) => i);

describe('bikes that stand about', () => {
  it('AR28: a small bike behind others, the same in three bursts and never what a picture is about', () => {
    expect([...findStanding(bikesOf([{ look: 0 }, { look: 0 }, { look: 0 }]), oneBurstEach(3), 0.5)]).toEqual([
      1, 3, 5,
    ]);
  });

  it('AR28: not in one burst, nor of three looks, nor with somebody on it, nor as large as the main bike', () => {
    const three = bikesOf([{ look: 0 }, { look: 0 }, { look: 0 }]);
    expect(findStanding(three, Int32Array.from([0, 0, 0]), 0.5).size).toBe(0);
    expect(findStanding(bikesOf([{ look: 0 }, { look: 1 }, { look: 2 }]), oneBurstEach(3), 0.5).size).toBe(0);
    const ridden = { look: 0, riderBox: FAR };
    expect(findStanding(bikesOf([ridden, ridden, ridden]), oneBurstEach(3), 0.5).size).toBe(0);
    const large = { look: 0, box: [0.65, 0.3, 0.25, 0.45] as Box };
    expect(findStanding(bikesOf([large, large, large]), oneBurstEach(3), 0.5).size).toBe(0);
  });

  it('AR28: not a rider who is the main bike of another picture', () => {
    expect(findStanding(bikesOf([{ look: 11 }, { look: 11 }, { look: 11 }]), oneBurstEach(3), 0.5).size).toBe(0);
  });

  it('AR28: on a day with a bike behind the barrier of each spot, nearly none of its pictures makes a rider', () => {
    const groups = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 10 }));
    const detector = { missedShare: 0, surplusShare: 0.2 };
    const day = syntheticDay({ ...hardDay('s74', 8), groups, rounds: 3, detector });
    const isParked = (frameId: string, subject: number): boolean => {
      const frame = day.input.pixels.get(frameId as never);
      return frame?.kind === 'measured' && frame.subjects[subject]?.box[0] === 0.79;
    };
    const bikes = arrange(day.input).passes.flatMap((pass) => pass.bikes);
    const parked = bikes.filter(({ frameId, subject }) => isParked(frameId, subject)).length;
    const all = [...day.input.pixels.values()].flatMap((frame) =>
      frame.kind === 'measured' ? frame.subjects.filter(({ box }) => box[0] === 0.79) : [],
    ).length;
    expect(all).toBeGreaterThan(30);
    expect(parked / all).toBeLessThan(0.15);
  });
});

import { describe, expect, it } from 'vitest';
import { foldedOf, hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import type { Decision } from '../log/types.js';
import { millisecondsOf, wallMsOf } from '../units.js';
import { arrange, arrangeAgain } from './index.js';

const day = syntheticDay({
  ...hardDay('s74', 3),
  groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 10 })),
  rounds: 4,
  lunchAfterRound: 2,
});
const learnt = arrangeAgain(day.input, null);
const calibration = learnt.arrangement.calibration!;

describe('a logged calibration', () => {
  it('AR32: says what was learnt in a few numbers', () => {
    expect(Object.keys(calibration).length).toBeLessThan(12);
    expect(calibration.fastestLapMs).toBeGreaterThan(90_000);
    expect(calibration.fastestLapMs).toBeLessThan(112_000);
  });

  it('AR32: a fastest lap that somebody said is not logged as if it were measured, and outranks one that was', () => {
    const said = { ...day.input, timetable: { ...day.input.timetable!, fastestLapMs: millisecondsOf(100_000) } };
    expect(arrange(said).calibration).not.toHaveProperty('fastestLapMs');
    expect(arrange({ ...said, calibration }).calibration).toEqual(calibration);
  });

  it('AR32: gives the arrangement that it was learnt from', () => {
    expect(arrange({ ...day.input, calibration })).toEqual(learnt.arrangement);
  });

  it('AR32: is not learnt anew from further pictures; without it, it is', () => {
    const half = new Map([...day.input.pixels].filter((_, i) => i % 3 !== 0));
    expect(arrange({ ...day.input, pixels: half, calibration }).calibration).toEqual(calibration);
    expect(arrange({ ...day.input, pixels: half }).calibration).not.toEqual(calibration);
  });

  it('AR32: of another version, or learnt from other descriptors, is left aside', () => {
    expect(arrange({ ...day.input, calibration: { ...calibration, version: 99 } })).toEqual(learnt.arrangement);
    const wrong = { ...calibration, dimensions: 3, passLikeness: 0.99, trackletLikeness: 0.99 };
    expect(arrange({ ...day.input, calibration: wrong })).toEqual(learnt.arrangement);
  });
});

describe('arranging again', () => {
  const sessionIs = (group: string): Decision => ({
    kind: 'session-is',
    at: wallMsOf(learnt.arrangement.sessions[2]!.start + 60_000),
    group,
  });
  const again = (decision: Decision) =>
    arrangeAgain({ ...day.input, calibration, log: foldedOf([decision]) }, learnt.memory);

  it('AR18: keeps riders where a word about sessions leaves them as they were, and gives what comes from nothing', () => {
    const word = sessionIs(learnt.arrangement.sessions[2]!.group!);
    const { arrangement, memory } = again(word);
    expect(memory.found).not.toBe(learnt.memory.found);
    expect(memory.found.clustering).toBe(learnt.memory.found.clustering);
    expect(arrangement).toEqual(arrange({ ...day.input, calibration, log: foldedOf([word]) }));
  });

  it('AR18: works riders out anew where it does not', () => {
    const word = sessionIs('N');
    expect(learnt.arrangement.sessions[2]!.group).not.toBe('N');
    const { arrangement, memory } = again(word);
    expect(memory.found.clustering).not.toBe(learnt.memory.found.clustering);
    expect(arrangement).toEqual(arrange({ ...day.input, calibration, log: foldedOf([word]) }));
  });
});

import { describe, expect, it } from 'vitest';
import { foldedOf, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import { arrange } from '../../core/arrange/index.js';
import type { Arrangement } from '../../core/arrange/types.js';
import type { Decision } from '../../core/log/types.js';
import { calibrationOf, timetableOf } from './derive.js';
import { calibrationToLog } from './logCalibration.js';

const used = { version: 1, passLikeness: 0.4 };
const timetable: Decision = { kind: 'timetable', timetable: { slipRule: 'clock-fixed', groups: [], slots: [] } };

/** What a day's log holds once nothing is left to log. */
function settled(decisions: readonly Decision[], learn: (log: readonly Decision[]) => typeof used, files: number) {
  const log = [...decisions];
  for (;;) {
    const next = calibrationToLog(foldedOf(log), learn(log), files);
    if (next === null) return log;
    log.push({ kind: 'calibration', calibration: next.calibration });
  }
}
const calibrations = (log: readonly Decision[]) =>
  log.flatMap((decision) => (decision.kind === 'calibration' ? [decision.calibration] : []));
const first = settled([], () => used, 120);

describe('when the day’s learning is logged', () => {
  it('AR32: when the first fill is complete, with how many files it is of', () => {
    expect(calibrations(first)).toEqual([{ ...used, files: 120, words: expect.any(Number) }]);
  });

  it('AR32: not again while no further fill is complete, whatever is learnt', () => {
    expect(settled(first, () => ({ ...used, passLikeness: 0.5 }), 120)).toEqual(first);
  });

  it('AR32: anew when one is: first it is learnt, then logged', () => {
    const learnt = { ...used, passLikeness: 0.5 };
    const whole = settled(first, () => learnt, 240);
    expect(calibrations(whole).slice(1)).toEqual([{}, { ...learnt, files: 240, words: expect.any(Number) }]);
  });

  it('AR32: anew when a timetable or a clock is said or taken back, once, and that is told', () => {
    const clock: Decision = { kind: 'body-clock', body: 'Invented|One|7' as never, offsetMs: 1000 as never };
    for (const said of [timetable, clock]) {
      expect(calibrationToLog(foldedOf([...first, said]), used, 120)).toEqual({ calibration: {}, isForWords: true });
      const again = settled([...first, said], () => used, 120);
      expect(calibrations(again)).toHaveLength(3);
      const takenBack = again.filter((decision) => decision !== said);
      expect(calibrations(settled(takenBack, () => used, 120))).toHaveLength(5);
    }
    const kept: Decision = { kind: 'keep', file: 'file' as never };
    expect(settled([...first, kept], () => used, 120)).toEqual([...first, kept]);
  });

  it('AR32: not for an empty meeting, nor where nothing was learnt', () => {
    expect(calibrationToLog(foldedOf([]), used, 0)).toBeNull();
    expect(calibrationToLog(foldedOf([]), undefined, 10)).toBeNull();
  });
});

describe('a timetable said late', () => {
  const day = syntheticDay({ ...ORDINARY_DAY, seed: 4, rounds: 2 });
  const said: Decision = { kind: 'timetable', timetable: day.timetable };
  const arranged = (log: readonly Decision[]): Arrangement => {
    const folded = foldedOf(log);
    return arrange({
      ...day.input,
      log: folded,
      timetable: timetableOf(folded),
      calibration: calibrationOf(folded),
    });
  };
  const live = (log: readonly Decision[]) =>
    settled(log, (own) => arranged(own).calibration as typeof used, day.input.files.length);

  it('AR32: gives the riders that it gives when it is said before the cards come in', () => {
    const without = live([]);
    const before = arranged(live([said]));
    expect(arranged([...without, said])).not.toEqual(before);
    expect(arranged(live([...without, said]))).toEqual(before);
  });
});

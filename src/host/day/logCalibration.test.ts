import { describe, expect, it } from 'vitest';
import { foldedOf } from '../../../demo/simulated-day/index.js';
import { calibrationToLog } from './logCalibration.js';

const used = { version: 1, passLikeness: 0.4 };
const logOf = (...calibrations: readonly Readonly<Record<string, number>>[]) =>
  foldedOf(calibrations.map((calibration) => ({ kind: 'calibration', calibration })));

describe('when the day’s learning is logged', () => {
  it('AR32: when the first fill is complete, with how many files it is of', () => {
    expect(calibrationToLog(logOf(), used, 120)).toEqual({ ...used, files: 120 });
  });

  it('AR32: not again while no further fill is complete, whatever is learnt', () => {
    expect(calibrationToLog(logOf({ ...used, files: 120 }), { ...used, passLikeness: 0.5 }, 120)).toBeNull();
  });

  it('AR32: anew when one is: first it is learnt, then logged', () => {
    const before = { ...used, files: 120 };
    expect(calibrationToLog(logOf(before), used, 240)).toEqual({});
    const learnt = { ...used, passLikeness: 0.5 };
    expect(calibrationToLog(logOf(before, {}), learnt, 240)).toEqual({ ...learnt, files: 240 });
  });

  it('AR32: not for an empty meeting, nor where nothing was learnt', () => {
    expect(calibrationToLog(logOf(), used, 0)).toBeNull();
    expect(calibrationToLog(logOf(), undefined, 10)).toBeNull();
  });
});

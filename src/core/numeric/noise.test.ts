import { describe, expect, it } from 'vitest';
import {
  atDistance,
  averageOfDose,
  behindProtector,
  DAILY_LIMITS_DB,
  dailyExposureDb,
  doseOf,
  exposureOfPoints,
  levelOfPasses,
  minutesAllowed,
  minutesUntil,
  peakDb,
  pointsOf,
  predictedReduction,
  weeklyExposureDb,
} from './noise.js';

const allDay = (levelDb: number) => ({ levelDb, minutes: 480 });

describe('daily exposure', () => {
  it('PL901: the action values and the limit are those of the 2005 regulations', () => {
    expect(DAILY_LIMITS_DB).toEqual({ lowerAction: 80, upperAction: 85, limit: 87 });
  });

  it('PL901: peaks that Directive 2003/10/EC gives in pascals are the regulations’ 135, 137 and 140 dB', () => {
    const peaks = [112, 140, 200].map(peakDb);
    expect(peaks.map((db) => Number(db.toFixed(2)))).toEqual([134.96, 136.9, 140]);
    expect(peaks.map(Math.round)).toEqual([135, 137, 140]);
  });

  it('PL901: a steady level all day is itself, and 92 dB for 30 min is 80 all day (a page on managing noise exposure)', () => {
    expect(dailyExposureDb([allDay(85)])).toBeCloseTo(85, 9);
    expect(dailyExposureDb([{ levelDb: 92, minutes: 30 }])).toBeCloseTo(80, 1);
  });

  it('PL901: points and exposure are two ways of saying one thing', () => {
    const day = [
      { levelDb: 88, minutes: 120 },
      { levelDb: 94, minutes: 45 },
      { levelDb: 79, minutes: 200 },
    ];
    const points = day.map(pointsOf).reduce((a, b) => a + b, 0);
    expect(exposureOfPoints(points)).toBeCloseTo(dailyExposureDb(day), 9);
    expect(exposureOfPoints(100)).toBe(85);
  });

  it('PL901: five equal days are the week’s exposure, and one of them is 7 dB less', () => {
    expect(weeklyExposureDb([90, 90, 90, 90, 90])).toBeCloseTo(90, 9);
    expect(weeklyExposureDb([90])).toBeCloseTo(83.01, 2);
  });

  it('PL901: the time left is what fills the day up to the limit, and none is left beyond it', () => {
    const before = [{ levelDb: 94, minutes: 20 }];
    const left = minutesUntil(87, 91, before);
    expect(dailyExposureDb([...before, { levelDb: 91, minutes: left }])).toBeCloseTo(87, 9);
    expect(minutesUntil(85, 91, [{ levelDb: 100, minutes: 20 }])).toBe(0);
  });
});

/** HSE weekly noise exposure ready-reckoner, © Crown copyright 2020; rounded there, by up to 4 % (316.2 is printed 315). */
describe('the HSE weekly ready-reckoner', () => {
  const DAILY = [
    [95, 1000],
    [94, 790],
    [93, 630],
    [92, 500],
    [91, 400],
    [90, 315],
    [89, 250],
    [88, 200],
    [87, 160],
    [86, 125],
    [85, 100],
    [84, 80],
    [83, 65],
    [82, 50],
    [81, 40],
    [80, 32],
    [79, 26],
    [78, 20],
  ] as const;
  const WEEKLY = [
    [5000, 95],
    [4000, 94],
    [3200, 93],
    [2500, 92],
    [2000, 91],
    [1600, 90],
    [1250, 89],
    [1000, 88],
    [790, 87],
    [630, 86],
    [500, 85],
    [395, 84],
    [315, 83],
    [250, 82],
    [200, 81],
    [160, 80],
    [125, 79],
    [100, 78],
  ] as const;

  it.each(DAILY)('PL902: %d dB all day are %d points', (levelDb, points) => {
    expect(Math.abs(pointsOf(allDay(levelDb)) / points - 1)).toBeLessThan(0.04);
  });

  it.each(WEEKLY)('PL902: %d points in a week are %d dB', (points, levelDb) => {
    expect(Math.abs(exposureOfPoints(points / 5) - levelDb)).toBeLessThan(0.2);
  });

  it('PL902: both halves of the table were looked at', () => {
    expect([DAILY.length, WEEKLY.length]).toEqual([18, 18]);
  });
});

/** NIOSH publication 98-126 (1998), table 1-1; hours, minutes and seconds as printed, where seconds are cut off. */
describe('NIOSH 98-126', () => {
  const TABLE = [
    [80, 25, 24, 0],
    [82, 16, 0, 0],
    [85, 8, 0, 0],
    [86, 6, 21, 0],
    [88, 4, 0, 0],
    [91, 2, 0, 0],
    [94, 1, 0, 0],
    [95, 0, 47, 37],
    [97, 0, 30, 0],
    [100, 0, 15, 0],
    [103, 0, 7, 30],
    [105, 0, 4, 43],
    [106, 0, 3, 45],
    [109, 0, 1, 53],
    [110, 0, 1, 29],
    [112, 0, 0, 56],
    [115, 0, 0, 28],
    [120, 0, 0, 9],
  ] as const;

  it.each(TABLE)('PL903: %d dB may last %d h %d min %d s', (levelDb, hours, minutes, seconds) => {
    const printed = hours * 3600 + minutes * 60 + seconds;
    // Above an hour the table has whole minutes; below, whole seconds, cut off (1:52.5 is printed 1:53).
    const unit = hours > 0 ? 60 : 1;
    expect(Math.abs(minutesAllowed(levelDb) * 60 - printed)).toBeLessThan(unit);
  });

  it('PL903: from 130 dB on it is less than a second', () => {
    expect(minutesAllowed(130) * 60).toBeLessThan(1);
  });

  it('PL903: dose and average of a mixed day (recomputed figures of the formula, 275.99 % and 89.41 dB)', () => {
    const dose = doseOf([
      { levelDb: 95, minutes: 60 },
      { levelDb: 100, minutes: 15 },
      { levelDb: 85, minutes: 240 },
    ]);
    expect(dose).toBeCloseTo(275.99, 2);
    expect(averageOfDose(dose)).toBeCloseTo(89.41, 2);
  });

  it('PL903: at the 96 dB(A) measured for spectators of car races the day’s share is gone in under an hour, at the drivers’ 114 in minutes (Noise Control Engineering Journal 58(1), 2010)', () => {
    expect(minutesAllowed(96)).toBeLessThan(60);
    expect(minutesAllowed(114)).toBeLessThan(2);
  });
});

describe('protectors, ISO 4869-2', () => {
  const snr = (snrDb: number) => ({ kind: 'snr' as const, snrDb });
  const unused = Number.NaN;

  it('PL904: SNR is taken from the C-weighted level (makers’ worked examples: 97 and 28; 108 and 30; 102 and 28)', () => {
    expect(behindProtector(snr(28), { aDb: unused, cDb: 97 }).labDb + 4).toBe(73);
    expect(behindProtector(snr(30), { aDb: unused, cDb: 108 })).toEqual({ labDb: 78, atWorkDb: 82 });
    expect(behindProtector(snr(28), { aDb: unused, cDb: 102 }).labDb).toBe(74);
  });

  it('PL904: HML with A and C together (an instrument maker’s manual: H 25, M 19, L 13 at 103.2 and 103.4 dB)', () => {
    const rating = { kind: 'hml', highDb: 25, mediumDb: 19, lowDb: 13 } as const;
    const levels = { aDb: 103.2, cDb: 103.4 };
    expect(predictedReduction(rating, levels)).toBeCloseTo(21.7, 9);
    expect(behindProtector(rating, levels).labDb).toBeCloseTo(81.5, 9);
    expect(behindProtector(rating, levels).atWorkDb).toBeCloseTo(85.5, 9);
  });

  it('PL904: both halves of HML meet at a difference of 2 dB, and low notes pass more', () => {
    const rating = { kind: 'hml', highDb: 30, mediumDb: 24, lowDb: 16 } as const;
    expect(predictedReduction(rating, { aDb: 90, cDb: 92 })).toBe(24);
    expect(predictedReduction(rating, { aDb: 90, cDb: 100 })).toBe(16);
    expect(predictedReduction(rating, { aDb: 90, cDb: 88 })).toBe(30);
  });
});

describe('distance', () => {
  it('PL905: one bike of 87.5 dB at 20 m is 93.5 at 10 m', () => {
    expect(atDistance(87.5, 20, 10)).toBeCloseTo(93.5, 1);
  });

  it('PL905: a static limit of 105 dB at half a metre says little of the track: at 20 m it were 73, the drive-by limit is 87.5', () => {
    expect(atDistance(105, 0.5, 20)).toBeCloseTo(73, 1);
  });

  it('PL905: passes sum up to the same as adding their sound up second by second', () => {
    const [loudestDb, nearestM, speedMps] = [93.5, 10, 30];
    const step = 0.01;
    let energy = 0;
    for (let t = -600; t < 600; t += step)
      energy += (step * nearestM ** 2 * 10 ** (loudestDb / 10)) / (nearestM ** 2 + (speedMps * t) ** 2);
    const summed = 10 * Math.log10((energy * 300) / 1200);
    expect(levelOfPasses(loudestDb, { nearestM, speedMps, passes: 300, minutes: 20 })).toBeCloseTo(summed, 2);
  });
});

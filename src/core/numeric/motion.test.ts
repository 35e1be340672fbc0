import { describe, expect, it } from 'vitest';
import {
  crossingBlurMm,
  followedBlurMm,
  imageSpeedMmPerS,
  metresPerSecond,
  panRateDegPerS,
  panStreakMm,
  secondsForStreak,
  speedOfLeanMs,
  streakShare,
  wheelDiameterMm,
  wheelTurnDeg,
} from './motion.js';

/** Of the worked cases: 36 mm by 8,276. */
const PIXEL_MM = 4.35e-3;
const MPH = 0.44704;
const square = { crossingDeg: 90 };

describe('image motion of a camera that stands still', () => {
  it('PL330: is the speed times the scale, as in the survey paper', () => {
    // ISPRS Commission I, p. 126: Vi(µm/s) = S·V(mph)·5280·12·25400/3600; R 20 l/mm and 300/R µm tolerable at 1:15,840 and
    // 125 mph need 1/240 s by the paper's rounding (1500·R·S·V), 235.2 unrounded; with 400/R 1/180 and 176.4.
    const viOf = (scale: number, mph: number) => (scale * mph * 5280 * 12 * 25400) / 3600;
    const speed = imageSpeedMmPerS(125 * MPH, 1 / 15840) * 1000;
    expect(speed).toBeCloseTo(viOf(1 / 15840, 125), 3);
    expect(speed / (300 / 20)).toBeCloseTo(235.2, 1);
    expect(speed / (400 / 20)).toBeCloseTo(176.4, 1);
    expect(Math.abs(speed / (300 / 20) / 240 - 1)).toBeLessThan(0.03);
    expect(Math.abs(speed / (400 / 20) / 180 - 1)).toBeLessThan(0.03);
  });

  it('PL330: is that of the worked cases', () => {
    for (const [kmh, distanceM, f, shutter, mm, px] of [
      [100, 20, 200, 1000, 0.2806, 64.5],
      [160, 30, 300, 1000, 0.4489, 103.2],
      [250, 50, 400, 2000, 0.28, 64.4],
    ] as const) {
      const blur = crossingBlurMm({ ...square, speedMs: metresPerSecond(kmh), distanceM }, f, 1 / shutter);
      expect(blur).toBeCloseTo(mm, 4);
      expect(blur / PIXEL_MM).toBeCloseTo(px, 1);
    }
  });

  it('PL330: falls with the sine of the angle', () => {
    const at = (crossingDeg: number) => crossingBlurMm({ speedMs: 30, distanceM: 30, crossingDeg }, 300, 1e-3);
    expect(at(30) / at(90)).toBeCloseTo(0.5, 9);
    expect(at(0)).toBe(0);
  });
});

describe('following', () => {
  const CASES = [
    [120, 25, 200, 125, 76.39, 490, 4.9],
    [160, 30, 300, 250, 84.88, 409, 4.09],
    [200, 40, 400, 125, 79.58, 1022, 10.2],
  ] as const;

  it('PL331: turns and draws out the background as in the worked cases, and a hand 1 % off shows a hundredth', () => {
    for (const [kmh, distanceM, f, shutter, rate, px, off] of CASES) {
      const pan = panRateDegPerS({ ...square, speedMs: metresPerSecond(kmh), distanceM });
      expect(pan).toBeCloseTo(rate, 2);
      const streak = panStreakMm(pan, f, 1 / shutter);
      expect(Math.abs(streak / PIXEL_MM - px)).toBeLessThan(0.6);
      expect(Math.abs(streak / PIXEL_MM / 100 - off)).toBeLessThan(0.06);
    }
    expect(panStreakMm(76.394, 200, 1 / 125)).toBeCloseTo(2.133, 3);
  });

  it('PL331: is as share of the bike the way that it goes, whatever the lens', () => {
    // The trade's own check values, 2.05 m: 60 km/h at 1/160 5.1 %, 120 at 1/160 10.2 %, 120 at 1/1000 1.6 %.
    for (const [kmh, shutter, percent] of [
      [60, 160, 5.1],
      [120, 160, 10.2],
      [120, 1000, 1.6],
    ] as const) {
      const share = streakShare(metresPerSecond(kmh), 1 / shutter);
      expect(share * 100).toBeCloseTo(percent, 1);
      expect(secondsForStreak(share, metresPerSecond(kmh))).toBeCloseTo(1 / shutter, 12);
    }
    const crossing = { speedMs: 40, distanceM: 27, crossingDeg: 50 };
    const bikeMm = (300 * 2.05 * Math.sin((50 * Math.PI) / 180)) / 27;
    expect(panStreakMm(panRateDegPerS(crossing), 300, 1 / 200) / (bikeMm / 1000)).toBeCloseTo(
      streakShare(40, 1 / 200) * 1000,
      9,
    );
  });

  it('PL332: what is nearer or farther than the point followed blurs by v/d − v/(d+Δ), which no hand removes', () => {
    const [speedMs, distanceM, focal, seconds] = [40, 20, 200, 1 / 1000];
    for (const across of [-0.4, 0.2, 0.8]) {
      const exact = followedBlurMm({ ...square, speedMs, distanceM }, { forwardM: 0, acrossM: across }, focal, seconds);
      const rate = Math.abs(speedMs / distanceM - speedMs / (distanceM + across));
      expect(exact / (focal * rate * seconds)).toBeCloseTo(1, 3);
    }
  });

  it('PL332: head-on a point off the middle grows outwards by f·w·v·t/d²', () => {
    const headOn = { speedMs: 40, distanceM: 50, crossingDeg: 0 };
    const exact = followedBlurMm(headOn, { forwardM: 0, acrossM: 0.4 }, 400, 1 / 1000);
    expect(exact / ((400 * 0.4 * 40) / 1000 / 50 ** 2)).toBeCloseTo(1, 3);
    expect(followedBlurMm(headOn, { forwardM: 1, acrossM: 0 }, 400, 1 / 1000)).toBe(0);
  });

  it('PL332: at any angle it is what projecting the points through a turning camera gives', () => {
    const [speedMs, distanceM, focal, seconds] = [45, 30, 300, 1 / 500];
    for (const crossingDeg of [0, 20, 45, 90, 135, 180])
      for (const [forwardM, acrossM] of [
        [0.7, 0.25],
        [0.7, -0.25],
        [-1, 0.1],
      ] as const) {
        const angle = (crossingDeg * Math.PI) / 180;
        const along = [Math.sin(angle), -Math.cos(angle)] as const;
        const across = [Math.cos(angle), Math.sin(angle)] as const;
        const placeOf = (travelled: number, f: number, a: number) =>
          [0, 1].map((i) => (i === 1 ? distanceM : 0) + (travelled + f) * along[i]! + a * across[i]!) as [
            number,
            number,
          ];
        const imageAt = (travelled: number) => {
          const helmet = placeOf(travelled, 0, 0);
          const [x, y] = placeOf(travelled, forwardM, acrossM);
          const length = Math.hypot(...helmet);
          const [ux, uy] = [helmet[0] / length, helmet[1] / length];
          return (focal * (x * uy - y * ux)) / (x * ux + y * uy);
        };
        const half = (speedMs * seconds) / 2;
        const blur = followedBlurMm({ speedMs, distanceM, crossingDeg }, { forwardM, acrossM }, focal, seconds);
        expect(blur).toBeCloseTo(Math.abs(imageAt(half) - imageAt(-half)), 9);
      }
  });

  it('PL332: the point that is followed stands still', () => {
    for (const crossingDeg of [0, 30, 90, 150])
      expect(followedBlurMm({ speedMs: 50, distanceM: 30, crossingDeg }, { forwardM: 0, acrossM: 0 }, 300, 0.01)).toBe(
        0,
      );
  });
});

describe('speed from lean', () => {
  it('PL333: is √(g·r·tan lean): 45° at 20, 80 and 150 m are 50, 101 and 138 km/h', () => {
    for (const [radius, kmh] of [
      [20, 50],
      [80, 101],
      [150, 138],
    ] as const)
      expect(Math.round(speedOfLeanMs(radius, 45) * 3.6)).toBe(kmh);
  });
});

describe('wheels', () => {
  it('PL334: have the size of the tyre’s marking', () => {
    // A tyre dealer's published chart (side, diameter, circumference with π = 3.14), and ours to the table's places.
    for (const [widthMm, aspect, chartD, chartC, d] of [
      [120, 70, 600, 1883, 599.8],
      [125, 70, 607, 1905, 606.8],
      [160, 60, 624, 1959, 623.8],
      [180, 55, 630, 1977, 629.8],
      [180, 60, 648, 2034, 647.8],
    ] as const) {
      const diameter = wheelDiameterMm({ widthMm, aspect, rimInches: 17 });
      expect(diameter).toBeCloseTo(d, 6);
      expect(Math.abs(diameter / chartD - 1)).toBeLessThan(0.001);
      expect(Math.abs((diameter * Math.PI) / chartC - 1)).toBeLessThan(0.001);
    }
  });

  it('PL334: turn at 100 km/h by the table’s degrees', () => {
    for (const [widthMm, aspect, circumference, d125, d250, d1000] of [
      [120, 70, 1884.3, 42.5, 21.2, 5.31],
      [180, 55, 1978.6, 40.4, 20.2, 5.05],
      [180, 60, 2035.1, 39.3, 19.7, 4.91],
      [190, 50, 1953.4, 41.0, 20.5, 5.12],
      [190, 55, 2013.1, 39.7, 19.9, 4.97],
      [200, 55, 2047.7, 39.1, 19.5, 4.88],
    ] as const) {
      const tyre = { widthMm, aspect, rimInches: 17 };
      const turn = (seconds: number) => wheelTurnDeg(tyre, metresPerSecond(100), seconds);
      expect(wheelDiameterMm(tyre) * Math.PI).toBeCloseTo(circumference, 1);
      expect(Math.abs(turn(1 / 125) - d125)).toBeLessThan(0.06);
      expect(Math.abs(turn(1 / 250) - d250)).toBeLessThan(0.06);
      expect(Math.abs(turn(1 / 1000) - d1000)).toBeLessThan(0.006);
    }
  });
});

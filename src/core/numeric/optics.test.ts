import { describe, expect, it } from 'vitest';
import {
  airyDiameterMm,
  depthOfField,
  diffractionCutoff,
  fieldOfViewDeg,
  focalFor,
  hyperfocalMm,
  magnification,
} from './optics.js';

const FOOT_MM = 304.8;

describe('depth of field', () => {
  it('PL323: is that of the published example, 50 mm f/4 at 10 ft', () => {
    // "Depth of Field", insyncpubs.com, article 11: c 0.03 mm 8′9″ – 11′8″; c 0.019 mm 9′2″ – 11′0″ (to the inch).
    for (const { circle, near, far } of [
      { circle: 0.03, near: 8 + 9 / 12, far: 11 + 8 / 12 },
      { circle: 0.019, near: 9 + 2 / 12, far: 11 },
    ]) {
      const { nearMm, farMm } = depthOfField(50, 4, 10 * FOOT_MM, circle);
      expect(Math.abs(nearMm / FOOT_MM - near)).toBeLessThan(1 / 24);
      expect(Math.abs(farMm! / FOOT_MM - far)).toBeLessThan(1 / 24);
    }
  });

  it('PL323: is that of the table for long lenses, c 0.03 mm', () => {
    for (const [f, n, at, near, far] of [
      [200, 2.8, 20, 19.202, 20.868],
      [300, 2.8, 30, 29.191, 30.855],
      [400, 2.8, 40, 39.185, 40.849],
      [400, 5.6, 50, 47.525, 52.747],
      [500, 4, 60, 58.334, 61.764],
      [600, 4, 80, 77.937, 82.175],
    ] as const) {
      const { nearMm, farMm } = depthOfField(f, n, at * 1000, 0.03);
      expect(nearMm / 1000, `${f} mm`).toBeCloseTo(near, 3);
      expect(farMm! / 1000, `${f} mm`).toBeCloseTo(far, 3);
    }
    expect(hyperfocalMm(50, 8, 0.03) / 1000).toBeCloseTo(10.47, 2);
  });

  it('PL323: reaches to infinity from the hyperfocal distance on, and half of it is the near end', () => {
    const H = hyperfocalMm(50, 8, 0.03);
    const { nearMm, farMm } = depthOfField(50, 8, H, 0.03);
    expect(farMm).toBeNull();
    expect(nearMm / H).toBeCloseTo(0.5, 3);
    expect(depthOfField(50, 8, H * 0.99, 0.03).farMm).not.toBeNull();
  });

  it('PL323: its ends are blurred by just c, by the rays themselves', () => {
    // Independent of the formula: the circle of a point is aperture · |v′ − v| / v′, by the lens equation.
    const image = (s: number) => 1 / (1 / 300 - 1 / s);
    const circleOf = (s: number) => ((300 / 4) * Math.abs(image(s) - image(30_000))) / image(s);
    const { nearMm, farMm } = depthOfField(300, 4, 30_000, 0.03);
    expect(circleOf(nearMm)).toBeCloseTo(0.03, 3);
    expect(circleOf(farMm!)).toBeCloseTo(0.03, 3);
  });
});

describe('field and framing', () => {
  it('PL324: is that of lens tables, 36 × 24 mm', () => {
    for (const [f, wide, high, across] of [
      [24, 73.74, 53.13, 84.06],
      [35, 54.43, 37.85, 63.44],
      [50, 39.6, 26.99, 46.79],
      [85, 23.91, 16.07, 28.56],
      [100, 20.41, 13.69, 24.41],
      [200, 10.29, 6.87, 12.35],
      [300, 6.87, 4.58, 8.25],
      [400, 5.15, 3.44, 6.19],
      [500, 4.12, 2.75, 4.95],
      [600, 3.44, 2.29, 4.13],
    ] as const) {
      expect(fieldOfViewDeg(36, f)).toBeCloseTo(wide, 2);
      expect(fieldOfViewDeg(24, f)).toBeCloseTo(high, 2);
      expect(fieldOfViewDeg(Math.hypot(36, 24), f)).toBeCloseTo(across, 2);
    }
  });

  it('PL324: the lens that frames a width shows that width', () => {
    const f = focalFor(36, 3417, 25_000);
    expect(magnification(f, 25_000) * 3417).toBeCloseTo(36, 9);
    // The far field says nearly the same.
    expect(2 * 25_000 * Math.tan((fieldOfViewDeg(36, f) * Math.PI) / 360)).toBeCloseTo(3417 * (1 + 36 / 3417), 0);
  });
});

describe('diffraction', () => {
  /** J1 by its power series, and its first zero by halving: owes nothing to the number 2.44. */
  const j1 = (x: number): number => {
    let term = x / 2;
    let sum = term;
    for (let k = 1; k < 30; k++) {
      term *= -((x / 2) ** 2) / (k * (k + 1));
      sum += term;
    }
    return sum;
  };
  const firstZero = (): number => {
    let [low, high] = [3, 4.5];
    while (high - low > 1e-12) {
      const middle = (low + high) / 2;
      if (j1(middle) > 0) low = middle;
      else high = middle;
    }
    return low;
  };

  it('PL325: the disc ends at the first dark ring of a round opening', () => {
    // Intensity (2·J1(x)/x)², x = π·r/(λ·N).
    for (const n of [2.8, 8, 22])
      expect(airyDiameterMm(n, 550e-6) / ((2 * firstZero() * 550e-6 * n) / Math.PI)).toBeCloseTo(1, 3);
  });

  it('PL325: is the usual table in green light, disc in µm and cut-off in lp/mm', () => {
    for (const [n, disc, cutoff] of [
      [2.8, 3.76, 649],
      [4, 5.37, 455],
      [5.6, 7.52, 325],
      [8, 10.74, 227],
      [11, 14.76, 165],
      [16, 21.47, 114],
      [22, 29.52, 83],
    ] as const) {
      expect(airyDiameterMm(n) * 1000).toBeCloseTo(disc, 2);
      expect(Math.abs(diffractionCutoff(n) - cutoff)).toBeLessThan(0.5);
    }
  });

  it('PL325: beyond the cut-off two shifted openings no longer overlap', () => {
    // An incoherent transfer function is the overlap of the opening with itself, shifted by λ·f·ν: it ends at the diameter.
    const [focal, n] = [400, 8];
    expect(550e-6 * focal * diffractionCutoff(n)).toBeCloseTo(focal / n, 9);
  });
});

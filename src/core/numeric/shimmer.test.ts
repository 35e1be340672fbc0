import { describe, expect, it } from 'vitest';
import { friedLengthM, longExposureBlurRad, shimmerGrowth, tiltVarianceRad2 } from './shimmer.js';

describe('shimmer', () => {
  it('PL335: has the coherence length of the plane wave as published, and 3/8 of the air for a point at the far end', () => {
    // r0 = [0.423·k²·∫Cn² dz]^(−3/5) (adaptive-optics primer of an observatory, eq. 7); worked in mm, λ 550 nm.
    for (const [cn2, lengthM, plane, point] of [
      [1e-13, 100, 22.6, 40.8],
      [1e-12, 100, 5.7, 10.2],
      [1e-12, 300, 2.9, 5.3],
    ] as const) {
      expect(Math.abs(friedLengthM({ cn2, lengthM }, 'plane') * 1000 - plane)).toBeLessThan(0.06);
      expect(Math.abs(friedLengthM({ cn2, lengthM }, 'from-a-point') * 1000 - point)).toBeLessThan(0.06);
    }
    // 3/8 by summing the weight (z/L)^(5/3) itself.
    const steps = 20_000;
    const weight =
      Array.from({ length: steps }, (_, i) => ((i + 0.5) / steps) ** (5 / 3)).reduce((a, b) => a + b) / steps;
    const ratio =
      friedLengthM({ cn2: 1e-13, lengthM: 100 }, 'from-a-point') / friedLengthM({ cn2: 1e-13, lengthM: 100 }, 'plane');
    expect(ratio).toBeCloseTo(weight ** (-3 / 5), 6);
  });

  it('PL335: blurs a long exposure by the width of Fried’s own transfer function', () => {
    // Independent of 0.98: half-width of the Hankel transform of exp(−3.44·(λν/r0)^(5/3)), in units of λ/r0.
    const intensity = (x: number): number => {
      let sum = 0;
      const [steps, end] = [2000, 3];
      for (let i = 0; i < steps; i++) {
        const u = ((i + 0.5) / steps) * end;
        sum += Math.exp(-3.44 * u ** (5 / 3)) * besselJ0(2 * Math.PI * u * x) * u;
      }
      return sum;
    };
    let [low, high] = [0, 1];
    while (high - low > 1e-6) {
      const middle = (low + high) / 2;
      if (intensity(middle) > intensity(0) / 2) low = middle;
      else high = middle;
    }
    expect((longExposureBlurRad(0.01) * 0.01) / 550e-9).toBeCloseTo(2 * low, 1);
    expect(Math.abs((longExposureBlurRad(0.01) * 0.01) / 550e-9 / (2 * low) - 1)).toBeLessThan(0.01);
  });

  it('PL335: blurs by the worked angles', () => {
    for (const [cn2, lengthM, microrad, behind400] of [
      [1e-13, 100, 13.2, 5.3],
      [1e-12, 100, 52.6, 21],
      [1e-12, 300, 101.7, 41],
    ] as const) {
      const blur = longExposureBlurRad(friedLengthM({ cn2, lengthM }, 'from-a-point'));
      expect(blur * 1e6).toBeCloseTo(microrad, 1);
      expect(Math.abs(blur * 400 * 1000 - behind400)).toBeLessThan(0.5);
    }
  });

  it('PL336: grows with the way: the angle by its 3/5, the blur at the bike by its 8/5', () => {
    const angle = (lengthM: number) => longExposureBlurRad(friedLengthM({ cn2: 1e-13, lengthM }, 'from-a-point'));
    expect(angle(200) / angle(100)).toBeCloseTo(2 ** 0.6, 9);
    expect(shimmerGrowth(40, 80)).toBeCloseTo(2 ** 1.6, 9);
    const stronger = longExposureBlurRad(friedLengthM({ cn2: 1e-12, lengthM: 100 }, 'from-a-point'));
    expect(stronger / angle(100)).toBeCloseTo(10 ** 0.6, 9);
  });

  it('PL336: moves the picture as much as the blur says, for an opening of Fried’s length', () => {
    // From r0: ∫Cn²w dz = r0^(−5/3)/(0.423·k²), so the variance is 2.91/(0.423·4π²)·(λ/D)²·(D/r0)^(5/3) = 0.174·(λ/r0)² at D = r0;
    // the literature's two-axis 0.358–0.364 halved gives 0.17–0.18.
    const air = { cn2: 1e-12, lengthM: 100 };
    const r0 = friedLengthM(air, 'from-a-point');
    const inUnits = tiltVarianceRad2(air, r0) / (550e-9 / r0) ** 2;
    expect(inUnits).toBeGreaterThan(0.165);
    expect(inUnits).toBeLessThan(0.185);
  });
});

/** Power series, good below 25. */
function besselJ0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; k < 80; k++) {
    term *= -((x / 2) ** 2) / (k * k);
    sum += term;
  }
  return sum;
}

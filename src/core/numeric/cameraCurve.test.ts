import fc from 'fast-check';
import { expect, test } from 'vitest';
import { reexposed, shownOf, stopsOf } from './cameraCurve.js';

const shown = fc.double({ min: 0.001, max: 0.98, noNaN: true });
const gain = fc.double({ min: 0.3, max: 3, noNaN: true });

test('so many stops more are that many stops more of what is shown', () => {
  fc.assert(
    fc.property(shown, gain, (light, times) => {
      fc.pre(reexposed(light, times) < 0.98 && reexposed(light, times) > 0.001);
      expect(stopsOf(reexposed(light, times)) - stopsOf(light)).toBeCloseTo(Math.log2(times), 9);
      expect(shownOf(stopsOf(light))).toBeCloseTo(light, 9);
    }),
  );
});

test('black stays black, what was burnt stays white, more light is never darker, and back is back', () => {
  fc.assert(
    fc.property(shown, gain, (light, times) => {
      expect(reexposed(0, times)).toBe(0);
      expect(reexposed(1, times)).toBe(1);
      expect(reexposed(light + 0.01, times)).toBeGreaterThan(reexposed(light, times));
      expect(reexposed(reexposed(light, times), 1 / times)).toBeCloseTo(light, 9);
    }),
  );
});

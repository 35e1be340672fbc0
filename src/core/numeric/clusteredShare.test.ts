import fc from 'fast-check';
import { expect, test } from 'vitest';
import { clusteredShareOf } from './clusteredShare.js';
import { seededRandom } from './random.js';
import { differenceOf, isApart } from './shareDifference.js';
import { shareOf } from './wilson.js';

const widthOf = (share: { from: number; to: number } | null): number => (share === null ? 0 : share.to - share.from);

test('clusters that say one thing each are as many trials as there are clusters', () => {
  const bursts = Array.from({ length: 40 }, (_, i) => ({ hits: i < 20 ? 8 : 0, trials: 8 }));
  const share = clusteredShareOf(bursts)!;
  expect(share.share).toBe(0.5);
  expect(widthOf(share)).toBeCloseTo(widthOf(shareOf(20, 40)), 2);
});

test('clusters that differ no more than chance are as many trials as frames', () => {
  const bursts = Array.from({ length: 40 }, () => ({ hits: 4, trials: 8 }));
  expect(widthOf(clusteredShareOf([...bursts, { hits: 3, trials: 8 }, { hits: 5, trials: 8 }]))).toBeCloseTo(
    widthOf(shareOf(168, 336)),
    3,
  );
});

test('RE2: passes of unequal size agree with a second implementation', () => {
  const hitsOf = [5, 0, 3, 8, 1, 6, 2, 4, 0, 7, 3, 6];
  const trialsOf = [5, 4, 6, 8, 7, 6, 3, 8, 5, 7, 4, 9];
  const found = clusteredShareOf(hitsOf.map((hits, i) => ({ hits, trials: trialsOf[i]! })))!;
  // statsmodels 0.15.0, 2026-11-30: OLS of noughts and ones on a constant, cov_type 'cluster' with correction, variance 0.0113308;
  // p(1 − p) over it is 20.68485 trials, put into proportion_confint(…, 'wilson').
  expect(found.share).toBeCloseTo(0.625, 12);
  expect(found.from).toBeCloseTo(0.412828, 6);
  expect(found.to).toBeCloseTo(0.798016, 6);
});

test('few clusters count one trial each, and so do clusters without any spread', () => {
  expect(clusteredShareOf([{ hits: 30, trials: 30 }])).toEqual(shareOf(1, 1));
  expect(clusteredShareOf(Array.from({ length: 6 }, () => ({ hits: 5, trials: 5 })))).toEqual(shareOf(6, 6));
  expect(clusteredShareOf([])).toBeNull();
});

test('the range holds the share, lies in 0–1 and is never narrower than that of single frames', () => {
  const cluster = fc.nat(12).chain((trials) => fc.record({ trials: fc.constant(trials), hits: fc.nat(trials) }));
  fc.assert(
    fc.property(fc.array(cluster, { minLength: 1, maxLength: 30 }), (clusters) => {
      const trials = clusters.reduce((sum, one) => sum + one.trials, 0);
      const hits = clusters.reduce((sum, one) => sum + one.hits, 0);
      const found = clusteredShareOf(clusters);
      if (trials === 0) return found === null;
      const plain = shareOf(hits, trials)!;
      return found!.from >= 0 && found!.to <= 1 && widthOf(found) >= widthOf(plain) - 1e-12;
    }),
  );
});

test('of bursts that rise and fall together the range holds the truth about 95 times in 100; that of single frames does not', () => {
  const { next: random } = seededRandom(7);
  const truth = 0.6;
  let [held, heldByFrames] = [0, 0];
  const days = 600;
  for (let day = 0; day < days; day += 1) {
    // Each burst has its own chance, uniform within ±0.4 of the truth: frames in it are alike.
    const bursts = Array.from({ length: 30 }, () => {
      const chance = truth + 0.8 * (random() - 0.5);
      const trials = 2 + Math.floor(random() * 9);
      return { trials, hits: Array.from({ length: trials }).filter(() => random() < chance).length };
    });
    const clustered = clusteredShareOf(bursts)!;
    const hits = bursts.reduce((sum, one) => sum + one.hits, 0);
    const trials = bursts.reduce((sum, one) => sum + one.trials, 0);
    const plain = shareOf(hits, trials)!;
    held += clustered.from <= truth && truth <= clustered.to ? 1 : 0;
    heldByFrames += plain.from <= truth && truth <= plain.to ? 1 : 0;
  }
  expect(held / days).toBeGreaterThan(0.92);
  expect(heldByFrames / days).toBeLessThan(0.9);
});

test('a difference of two shares: the worked case of Newcombe 1998, table II (a), 56 of 70 against 48 of 80', () => {
  const found = differenceOf(shareOf(56, 70)!, shareOf(48, 80)!);
  expect(found.difference).toBeCloseTo(0.2, 10);
  // Method 10: 0.0524 to 0.3339.
  expect(found.from).toBeCloseTo(0.0524, 4);
  expect(found.to).toBeCloseTo(0.3339, 4);
  // statsmodels 0.15.0, confint_proportions_2indep(…, method='newcomb'), 2026-11-30.
  for (const [k, n, l, m, from, to] of [
    [9, 10, 3, 10, 0.170523, 0.809018],
    [10, 10, 0, 20, 0.679086, 1],
    [5, 56, 0, 29, -0.038137, 0.19256],
  ] as const) {
    const { from: least, to: most } = differenceOf(shareOf(k, n)!, shareOf(l, m)!);
    expect(least).toBeCloseTo(from, 6);
    expect(most).toBeCloseTo(to, 6);
  }
  expect(isApart(found)).toBe(true);
  expect(isApart(differenceOf(shareOf(5, 10)!, shareOf(4, 10)!))).toBe(false);
});

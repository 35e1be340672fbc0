import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LabelledItem } from './bcubed.js';
import { adjustedRand, vMeasure } from './clusterAgreement.js';

const items = (truths: string, clusters: string): LabelledItem[] =>
  [...truths].map((truth, i) => ({ truth, cluster: clusters[i]! }));

// Source: scikit-learn 1.4, user guide 2.3.11 and the examples of `adjusted_rand_score` and `v_measure_score`.
describe('the worked examples of scikit-learn', () => {
  it('give the adjusted Rand index', () => {
    expect(adjustedRand(items('000111', '001122'))).toBeCloseTo(0.24, 2);
    expect(adjustedRand(items('0011', '0012'))).toBeCloseTo(0.57, 2);
    expect(adjustedRand(items('0000', '0123'))).toBeCloseTo(0, 9);
    expect(adjustedRand(items('0011', '0101'))).toBeCloseTo(-0.5, 9);
    expect(adjustedRand(items('0011', '1100'))).toBe(1);
  });

  it('give homogeneity, completeness and their mean', () => {
    const guide = vMeasure(items('000111', '001122'))!;
    expect(guide.homogeneity).toBeCloseTo(0.66, 1);
    expect(guide.completeness).toBeCloseTo(0.42, 2);
    expect(guide.v).toBeCloseTo(0.516, 3);
    expect(vMeasure(items('0011', '0012'))!.v).toBeCloseTo(0.8, 9);
    expect(vMeasure(items('0011', '0123'))!.v).toBeCloseTo(0.6667, 4);
    expect(vMeasure(items('0000', '0123'))!.v).toBeCloseTo(0, 9);
    expect(vMeasure(items('0011', '0000'))!.v).toBeCloseTo(0, 9);
  });
});

// Source: Introduction to Information Retrieval (2008), section 16.3: figure 16.4 has TP 20, FP 20, FN 24, TN 72 pairs
// (the index is these put into eq. 5) and a mutual information of 0.36 of the mean entropy.
it('gives the pairs and the shared information of figure 16.4 of the textbook', () => {
  const clusters = ['xxxxxo', 'xooood', 'xxddd'];
  const points = clusters.flatMap((all, cluster) => [...all].map((truth) => ({ truth, cluster })));
  const [tp, fp, fn, tn] = [20, 20, 24, 72];
  const index = (2 * (tp * tn - fn * fp)) / ((tp + fn) * (fn + tn) + (tp + fp) * (fp + tn));
  expect(adjustedRand(points)).toBeCloseTo(index, 9);
  expect(vMeasure(points)!.v).toBeCloseTo(0.36, 2);
});

it('depends on neither names nor order', () => {
  const item = fc.record({ cluster: fc.integer({ min: 0, max: 4 }), truth: fc.integer({ min: 0, max: 4 }) });
  fc.assert(
    fc.property(fc.array(item, { minLength: 1, maxLength: 25 }), (list) => {
      const renamed = list.map(({ cluster, truth }) => ({ cluster: `c${9 - cluster}`, truth: 7 * truth })).reverse();
      expect(adjustedRand(renamed)).toBeCloseTo(adjustedRand(list)!, 9);
      expect(vMeasure(renamed)!.v).toBeCloseTo(vMeasure(list)!.v, 9);
    }),
  );
});

it('says nothing about no items', () => {
  expect(adjustedRand([])).toBeNull();
  expect(vMeasure([])).toBeNull();
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bcubed, extendedBcubed, type LabelledItem } from './bcubed.js';

/** `{1–5}{6,7}`: the number of the set that holds each item. */
function items(truth: readonly string[], clusters: readonly string[]): LabelledItem[] {
  const holder = (sets: readonly string[], item: string): number => sets.findIndex((set) => set.includes(item));
  return [...truth.join('')].map((item) => ({ truth: holder(truth, item), cluster: holder(clusters, item) }));
}

// Source: A. Bagga, B. Baldwin, "Algorithms for scoring coreference chains" (1998), figures 1–3 and table 1.
describe('B-cubed of Bagga and Baldwin 1998', () => {
  const key = ['12345', '67', '89ABC'];

  it('gives 76.2 % and 100 % for their first response', () => {
    const found = bcubed(items(key, ['12345', '6789ABC']))!;
    expect(found.precision).toBeCloseTo(0.762, 3);
    expect(found.recall).toBe(1);
  });

  it('gives 58.3 % and 100 % for their second response', () => {
    const found = bcubed(items(key, ['1234589ABC', '67']))!;
    expect(found.precision).toBeCloseTo(0.583, 3);
    expect(found.recall).toBe(1);
  });
});

it('gives 0.5843 and 0.5676 for figure 16.4 of Manning, Raghavan and Schütze, 17 points in three clusters', () => {
  // The points: Introduction to Information Retrieval (2008), figure 16.4: x×5 o; x o×4 d; x×2 d×3. The shares by counting:
  // (26/6 + 18/6 + 13/5) / 17 and (30/8 + 17/5 + 10/4) / 17.
  const clusters = ['xxxxxo', 'xooood', 'xxddd'];
  const found = bcubed(clusters.flatMap((points, cluster) => [...points].map((truth) => ({ truth, cluster }))))!;
  expect(found.precision).toBeCloseTo(0.5843, 4);
  expect(found.recall).toBeCloseTo(0.5676, 4);
  expect(found.items).toBe(17);
});

it('gives 0.8333 and 0.5556 for the labels of the scikit-learn guide', () => {
  // The labels: scikit-learn user guide, clustering performance evaluation: true 000111, found 001122. By counting, 5/6 and 5/9.
  const found = bcubed([...'000111'].map((truth, i) => ({ truth, cluster: '001122'[i]! })))!;
  expect(found.precision).toBeCloseTo(0.8333, 4);
  expect(found.recall).toBeCloseTo(0.5556, 4);
});

// Source: Amigó et al. (2009), figures 16–21; items and figures also in github.com/hhromic/python-bcubed, example.py.
describe('extended B-cubed of Amigó et al. 2009', () => {
  const truth = ['gray black', 'gray black', 'gray', 'black', 'black', 'dashed', 'dashed'];
  const figures: readonly (readonly [number, readonly string[], number, number])[] = [
    [16, ['A B', 'A B', 'A', 'B', 'B', 'C', 'C'], 1, 1],
    [17, ['A2 A B', 'A2 A B', 'A2 A', 'B', 'B', 'C', 'C'], 0.86, 1],
    [18, ['A3 A2 A B', 'A3 A2 A B', 'A3 A2 A', 'B', 'B', 'C', 'C'], 0.81, 1],
    [19, ['A', 'A', 'A', 'B', 'B', 'C', 'C'], 1, 0.69],
    [20, ['A B', 'A B', 'A', 'D', 'D', 'C', 'C'], 1, 0.74],
    [21, ['A', 'A', 'A', 'A', 'A', 'B', 'B'], 0.89, 0.94],
  ];

  it.each(figures)('figure %i', (_, clusters, precision, recall) => {
    const found = extendedBcubed(
      clusters.map((names, i) => ({ clusters: names.split(' '), truths: truth[i]!.split(' ') })),
    )!;
    expect(found.precision).toBeCloseTo(precision, 2);
    expect(found.recall).toBeCloseTo(recall, 2);
  });
});

it('agrees with its extended form where clusters do not overlap', () => {
  const item = fc.record({ cluster: fc.integer({ min: 0, max: 4 }), truth: fc.integer({ min: 0, max: 4 }) });
  fc.assert(
    fc.property(fc.array(item, { minLength: 1, maxLength: 25 }), (list) => {
      const plain = bcubed(list)!;
      const extended = extendedBcubed(
        list.map(({ cluster, truth }) => ({ clusters: [String(cluster)], truths: [String(truth)] })),
      )!;
      expect(plain.precision).toBeCloseTo(extended.precision, 9);
      expect(plain.recall).toBeCloseTo(extended.recall, 9);
    }),
  );
});

it('says nothing about no items', () => {
  expect(bcubed([])).toBeNull();
});

import { describe, expect, it } from 'vitest';
import { pk, pkOfMarks, windowDiff, windowDiffOfMarks, windowSize } from './segmentation.js';

const marks = (text: string): number[] => [...text].map(Number);
const labels = (text: string): string[] => [...text];
/** Segment lengths → labels. */
const masses = (lengths: readonly number[]): number[] =>
  lengths.flatMap((length, i) => new Array<number>(length).fill(i));

// Source: NLTK 3, nltk/metrics/segmentation.py, the examples in its docstrings.
describe('the form over marks, as NLTK has it', () => {
  const s1 = marks('000100000010');
  const s2 = marks('000010000100');
  const s3 = marks('100000010000');

  it('gives the published WindowDiff at k 3', () => {
    expect(windowDiffOfMarks(s1, s1, 3).value).toBe(0);
    expect(windowDiffOfMarks(s1, s2, 3).value).toBeCloseTo(0.3, 10);
    expect(windowDiffOfMarks(s2, s3, 3).value).toBeCloseTo(0.8, 10);
    expect(windowDiffOfMarks(s1, marks('000000000000'), 3).value).toBeCloseTo(0.5, 10);
    expect(windowDiffOfMarks(s1, marks('111111111111'), 3).value).toBe(1);
    expect(windowDiffOfMarks(s1, s2, 3)).toMatchObject({ form: 'nltk', windows: 10 });
  });

  it('gives the published Pk at k 2', () => {
    const reference = marks('0100'.repeat(100));
    expect(pkOfMarks(reference, marks('1'.repeat(400)), 2).value).toBeCloseTo(0.5, 2);
    expect(pkOfMarks(reference, marks('0'.repeat(400)), 2).value).toBeCloseTo(0.5, 2);
    expect(pkOfMarks(reference, reference, 2).value).toBe(0);
  });
});

// Source: segeval, segeval/window/{windowdiff,pk}_test.py (C. Fournier).
describe('the form of Pevzner and Hearst', () => {
  const a = labels('1111122233333');
  const b = labels('1111222233333');
  const c = labels('1111123344444');
  const none = labels('1111111111111');
  const all = labels('123456789abcd');

  it('takes half the mean true segment as k', () => {
    expect([a, b, c].map(windowSize)).toEqual([2, 2, 2]);
    expect(windowDiff(b, a)).toMatchObject({ form: 'pevznerHearst', k: 2, windows: 11 });
  });

  it('gives the published WindowDiff', () => {
    expect(windowDiff(b, a).value).toBeCloseTo(2 / 11, 10);
    expect(windowDiff(c, a).value).toBeCloseTo(2 / 11, 10);
    expect(windowDiff(c, b).value).toBeCloseTo(3 / 11, 10);
    expect(windowDiff(b, none).value).toBeCloseTo(4 / 11, 10);
    expect(windowDiff(none, b).value).toBe(1);
    expect(windowDiff(b, all).value).toBe(1);
    expect(1 - windowDiff(masses([2, 2, 7]), masses([2, 3, 6])).value).toBeCloseTo(7 / 9, 10);
  });

  it('gives the WindowDiff of the worked cases of Scaiano and Inkpen (2012) as segeval tests them', () => {
    const reference = masses([6, 6]);
    expect(windowDiff(reference, masses([12])).value).toBeCloseTo(3 / 9, 10);
    expect(windowDiff(reference, masses([5, 7])).value).toBeCloseTo(2 / 9, 10);
    expect(windowDiff(reference, masses([1, 5, 6])).value).toBeCloseTo(1 / 9, 10);
    expect(windowDiff(reference, masses([5, 1, 1, 5])).value).toBeCloseTo(5 / 9, 10);
  });

  it('gives the published Pk', () => {
    expect(pk(b, a).value).toBeCloseTo(2 / 11, 10);
    expect(pk(c, a).value).toBeCloseTo(1 / 11, 10);
    expect(pk(c, b).value).toBeCloseTo(3 / 11, 10);
    expect(pk(b, all).value).toBeCloseTo(7 / 11, 10);
  });
});

it('says what it expected when the two segmentations differ in length', () => {
  expect(() => windowDiff([1, 1, 2], [1, 2])).toThrow('Expected as many units found as true, 3, but got 2.');
});

/**
 * How far a found segmentation is from the true one: Pk and WindowDiff, each in the two forms in use.
 *
 * Sources: D. Beeferman, A. Berger, J. Lafferty, "Statistical models for text segmentation", Machine Learning 34 (1999)
 * 177–210 (Pk); L. Pevzner, M. Hearst, "A critique and improvement of an evaluation metric for text segmentation",
 * Computational Linguistics 28 (2002) 19–36 (WindowDiff).
 *
 * The two forms differ and a figure must name its own and its k:
 * - `pevznerHearst`: N − k windows between units that lie k apart, N units; k is half the mean true segment.
 * - `nltk`: N − k + 1 windows of k marks each, over a string of N marks "a segment ends behind this unit".
 * Exact; 0 is agreement, 1 the worst.
 */

/** Per unit the number or name of its segment; only changes between neighbours matter. */
export type SegmentLabels = ArrayLike<number | string>;

export interface WindowMeasure {
  readonly form: 'pevznerHearst' | 'nltk';
  readonly k: number;
  readonly wrong: number;
  readonly windows: number;
  /** wrong ÷ windows. */
  readonly value: number;
}

/** Half the mean length of the true segments, rounded half to even, at least 2. */
export function windowSize(reference: SegmentLabels): number {
  const segments = 1 + bordersBetween(reference, 0, reference.length - 1);
  return Math.max(2, roundHalfToEven(reference.length / segments / 2));
}

export function windowDiff(reference: SegmentLabels, found: SegmentLabels, k = windowSize(reference)): WindowMeasure {
  return slide('pevznerHearst', reference, found, k, (i) => {
    return bordersBetween(reference, i, i + k) !== bordersBetween(found, i, i + k);
  });
}

export function pk(reference: SegmentLabels, found: SegmentLabels, k = windowSize(reference)): WindowMeasure {
  return slide('pevznerHearst', reference, found, k, (i) => {
    return bordersBetween(reference, i, i + k) > 0 !== bordersBetween(found, i, i + k) > 0;
  });
}

/** Marks: 1 where a segment ends. */
export function windowDiffOfMarks(reference: ArrayLike<number>, found: ArrayLike<number>, k: number): WindowMeasure {
  return slide('nltk', reference, found, k, (i) => marksIn(reference, i, k) !== marksIn(found, i, k));
}

export function pkOfMarks(reference: ArrayLike<number>, found: ArrayLike<number>, k: number): WindowMeasure {
  return slide('nltk', reference, found, k, (i) => marksIn(reference, i, k) > 0 !== marksIn(found, i, k) > 0);
}

function slide(
  form: WindowMeasure['form'],
  reference: ArrayLike<unknown>,
  found: ArrayLike<unknown>,
  k: number,
  isWrong: (at: number) => boolean,
): WindowMeasure {
  if (reference.length !== found.length)
    throw new RangeError(`Expected as many units found as true, ${reference.length}, but got ${found.length}.`);
  const windows = reference.length - k + (form === 'nltk' ? 1 : 0);
  if (!Number.isInteger(k) || k < 1 || windows < 1)
    throw new RangeError(`Expected a window of 1 to ${reference.length - 1} units but got ${k}.`);
  let wrong = 0;
  for (let i = 0; i < windows; i++) if (isWrong(i)) wrong++;
  return { form, k, wrong, windows, value: wrong / windows };
}

function bordersBetween(labels: SegmentLabels, from: number, to: number): number {
  let borders = 0;
  for (let i = from + 1; i <= to; i++) if (labels[i] !== labels[i - 1]) borders++;
  return borders;
}

function marksIn(marks: ArrayLike<number>, from: number, k: number): number {
  let count = 0;
  for (let i = from; i < from + k; i++) if (marks[i] === 1) count++;
  return count;
}

function roundHalfToEven(value: number): number {
  const floor = Math.floor(value);
  const rest = value - floor;
  if (rest !== 0.5) return Math.round(value);
  return floor % 2 === 0 ? floor : floor + 1;
}

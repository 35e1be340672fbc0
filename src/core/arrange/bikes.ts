/** All bikes of the day in typed arrays: row i is one bike in one frame. */
import type { Box, FrameMeasured, Subject } from '../measure/types.js';
import { base64Length, readDescriptor } from './descriptors.js';
import { linkThreshold } from './passes.js';
import { findPieces } from './pieces.js';
import type { Calibration } from './riders/calibration.js';
import { findStanding } from './standing.js';

/** A smaller bike than this share of the main one's area is background: another stretch of track, a parked machine. */
const LEAST_AREA_OF_MAIN = 0.2;

export interface Bikes {
  readonly count: number;
  /** Index of the exposure, ascending. */
  readonly exposure: Int32Array;
  readonly subject: Int32Array;
  readonly dimensions: number;
  /** `count × dimensions`, unit rows; a zero row where there is no descriptor. */
  readonly descriptors: Float32Array;
  readonly subjects: readonly Subject[];
}

/** Bikes, and which boxes turned out to be pieces of them. */
export interface FoundBikes {
  readonly bikes: Bikes;
  readonly pieces: Pieces;
  /** Likeness above which bikes of a burst are one. */
  readonly passLikeness: number;
}

/** Per exposure, the number of a subject that is a piece → the number of the subject that is the bike. */
export type Pieces = ReadonlyMap<number, ReadonlyMap<number, number>>;

/**
 * Bikes that go by: without pieces of them, and without those that stand about.
 *
 * @param bursts of each frame
 * @param known what was logged; null: from the day.
 */
export function bikesOf(
  pixels: readonly (FrameMeasured | null)[],
  bursts: Int32Array,
  known: Pick<Calibration, 'dimensions' | 'passLikeness'> | null,
): FoundBikes {
  const boxed = boxedBikes(pixels);
  const wholes = findPieces(boxed);
  const pieces = new Map<number, Map<number, number>>();
  for (const [piece, whole] of wholes) {
    const own = pieces.get(boxed.exposure[piece]!) ?? new Map<number, number>();
    own.set(boxed.subject[piece]!, boxed.subject[whole]!);
    pieces.set(boxed.exposure[piece]!, own);
  }
  const bikes = only(boxed, (i) => !wholes.has(i));
  const passLikeness = known?.dimensions === bikes.dimensions ? known.passLikeness : linkThreshold(bikes, bursts);
  const standing = findStanding(bikes, bursts, passLikeness);
  return { bikes: only(bikes, (i) => !standing.has(i)), pieces, passLikeness };
}

function only(bikes: Bikes, isKept: (i: number) => boolean): Bikes {
  const kept = Array.from({ length: bikes.count }, (_, i) => i).filter(isKept);
  if (kept.length === bikes.count) return bikes;
  const d = bikes.dimensions;
  const descriptors = new Float32Array(kept.length * d);
  for (const [at, i] of kept.entries()) descriptors.set(bikes.descriptors.subarray(i * d, (i + 1) * d), at * d);
  return {
    count: kept.length,
    exposure: Int32Array.from(kept, (i) => bikes.exposure[i]!),
    subject: Int32Array.from(kept, (i) => bikes.subject[i]!),
    dimensions: d,
    descriptors,
    subjects: kept.map((i) => bikes.subjects[i]!),
  };
}

function boxedBikes(pixels: readonly (FrameMeasured | null)[]): Bikes {
  const exposure: number[] = [];
  const subject: number[] = [];
  const subjects: Subject[] = [];
  pixels.forEach((frame, e) => {
    if (frame === null) return;
    frame.subjects.forEach((seen, s) => {
      if (!countsAsBike(seen, frame.subjects)) return;
      exposure.push(e);
      subject.push(s);
      subjects.push(seen);
    });
  });
  const dimensions = commonLength(subjects);
  const descriptors = new Float32Array(subjects.length * dimensions);
  subjects.forEach((seen, i) => {
    if (base64Length(seen.descriptor) === dimensions)
      readDescriptor(seen.descriptor, descriptors, i * dimensions, dimensions);
  });
  return {
    count: subjects.length,
    exposure: Int32Array.from(exposure),
    subject: Int32Array.from(subject),
    dimensions,
    descriptors,
    subjects,
  };
}

function countsAsBike(subject: Subject, all: readonly Subject[]): boolean {
  if (subject.what !== 'motorcycle') return false;
  if (subject.isMain) return true;
  const largest = Math.max(...all.filter((s) => s.what === 'motorcycle').map(areaOf));
  return areaOf(subject) >= LEAST_AREA_OF_MAIN * largest;
}

const areaOf = ({ box }: Subject): number => box[2] * box[3];

/** Descriptors of another version have another length and cannot be compared; the commonest wins. */
function commonLength(subjects: readonly Subject[]): number {
  const counts = new Map<number, number>();
  for (const { descriptor } of subjects) {
    const length = base64Length(descriptor);
    counts.set(length, (counts.get(length) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? 0;
}

/** A bike that only a person saw, or that was too small to count. */
export interface ExtraBike {
  readonly exposure: number;
  readonly subject: number;
  readonly box: Box;
}

/** The same bikes with some more behind them. */
export function withExtraBikes(
  bikes: Bikes,
  extras: readonly ExtraBike[],
  measured: readonly (FrameMeasured | null)[],
): Bikes {
  if (extras.length === 0) return bikes;
  const d = bikes.dimensions;
  const subjects = extras.map(({ exposure, subject, box }) => measured[exposure]?.subjects[subject] ?? unseen(box));
  const descriptors = new Float32Array((bikes.count + extras.length) * d);
  descriptors.set(bikes.descriptors);
  subjects.forEach(({ descriptor }, i) => {
    if (d > 0 && base64Length(descriptor) === d) readDescriptor(descriptor, descriptors, (bikes.count + i) * d, d);
  });
  return {
    count: bikes.count + extras.length,
    exposure: Int32Array.from([...bikes.exposure, ...extras.map(({ exposure }) => exposure)]),
    subject: Int32Array.from([...bikes.subject, ...extras.map(({ subject }) => subject)]),
    dimensions: d,
    descriptors,
    subjects: [...bikes.subjects, ...subjects],
  };
}

const unseen = (box: Box): Subject => ({
  what: 'motorcycle',
  box,
  bikeBox: box,
  score: 0,
  isMain: false,
  isCut: false,
  bikeColours: [],
  riderColours: [],
  sharpness: { kind: 'absent', reason: 'not-measured' },
  descriptor: '',
});

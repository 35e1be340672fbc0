/**
 * One bike that a detector boxed twice: the whole of it, and a wheel, a fairing or the rider with the tank. Left as two,
 * the rule that two bikes of one picture are two riders tears the rider's day in two.
 *
 * A box wholly inside another is a piece of it where both look alike. How alike two bikes of one picture look by chance,
 * the day shows in pictures where they stand apart; a small bike far behind a near one is then kept.
 */
import { areaOf, intersectionOf } from '../measure/decodeDetections.js';
import type { Subject } from '../measure/types.js';
import type { Bikes } from './bikes.js';
import { dotRows } from './descriptors.js';

/** Share of the smaller box that lies in the larger one; boxes wander by a few hundredths. */
const INSIDE_SHARE = 0.85;
/** A piece looks more like its bike than two bikes do by so many of their spreads; no source, by reasoning. */
const PIECE_SPREADS = 1.5;
/** The same where somebody else sits on the smaller one. */
const RIDDEN_SPREADS = 3;
/** Where the day shows too few pairs of bikes to say what is alike. */
const LEAST_PAIRS = 10;

/** Row of each piece → row of the bike that it is a piece of, never itself a piece. */
export function findPieces(bikes: Bikes): ReadonlyMap<number, number> {
  const nested: (readonly [piece: number, whole: number])[] = [];
  const apart: number[] = [];
  for (const [a, b] of pairsOfFrames(bikes)) {
    const [piece, whole] = sizeOf(bikes, a) < sizeOf(bikes, b) ? [a, b] : [b, a];
    if (isInside(bikes.subjects[piece]!, bikes.subjects[whole]!)) nested.push([piece, whole]);
    else apart.push(likeness(bikes, a, b));
  }
  const least = likenessOf(apart);
  const pieces = new Map<number, number>();
  // Larger wholes first, so that a piece of a piece belongs to the bike.
  for (const [piece, whole] of nested.sort((one, other) => sizeOf(bikes, other[1]) - sizeOf(bikes, one[1]))) {
    if (pieces.has(piece)) continue;
    const isRidden = hasOwnRider(bikes.subjects[piece]!, bikes.subjects[whole]!);
    if (likeness(bikes, piece, whole) >= least(isRidden)) pieces.set(piece, pieces.get(whole) ?? whole);
  }
  return pieces;
}

function* pairsOfFrames({ count, exposure }: Bikes): Iterable<readonly [number, number]> {
  for (let a = 0; a < count; a++) for (let b = a + 1; b < count && exposure[b] === exposure[a]; b++) yield [a, b];
}

const sizeOf = (bikes: Bikes, i: number): number => areaOf(bikes.subjects[i]!.box);

const isInside = ({ box }: Subject, whole: Subject): boolean =>
  intersectionOf(box, whole.box) >= INSIDE_SHARE * areaOf(box);

const likeness = (bikes: Bikes, a: number, b: number): number =>
  dotRows(bikes.descriptors, a, bikes.descriptors, b, bikes.dimensions);

function likenessOf(apart: readonly number[]): (isRidden: boolean) => number {
  if (apart.length < LEAST_PAIRS) return (isRidden) => (isRidden ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY);
  const mean = apart.reduce((sum, value) => sum + value, 0) / apart.length;
  const spread = Math.sqrt(apart.reduce((sum, value) => sum + (value - mean) ** 2, 0) / apart.length);
  return (isRidden) => mean + (isRidden ? RIDDEN_SPREADS : PIECE_SPREADS) * spread;
}

/** Two people, one on each: the smaller one is a bike farther away. */
function hasOwnRider({ riderBox: own }: Subject, { riderBox: other }: Subject): boolean {
  return (
    own !== undefined && other !== undefined && intersectionOf(own, other) < 0.5 * Math.min(areaOf(own), areaOf(other))
  );
}

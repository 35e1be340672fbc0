/**
 * Bikes that stand about: parked behind the barrier, in the paddock, on a trailer. They are in the background of picture
 * after picture and belong to nobody's set; taken for riders, they ride with every group and stand between real ones.
 *
 * Such a bike is never what a picture is about, is small beside that, has nobody on it, is seen in burst after burst, and
 * no main bike of the day looks as much like it as it does itself.
 */
import { areaOf } from '../measure/decodeDetections.js';
import type { Bikes } from './bikes.js';
import { dotRows } from './descriptors.js';

/** Share of the main bike's area; no source, by reasoning: two bikes riding together are nearer in size. */
const MOST_AREA_OF_MAIN = 0.5;
/** Bursts in which it is seen. */
const LEAST_BURSTS = 3;

/** Rows of bikes that stand about. */
export function findStanding(bikes: Bikes, bursts: Int32Array, leastLikeness: number): ReadonlySet<number> {
  const candidates = backgroundBikes(bikes);
  if (candidates.length < LEAST_BURSTS) return new Set();
  const standing = new Set<number>();
  for (const list of alikeSets(candidates, bikes, leastLikeness)) {
    const isOften = new Set(list.map((i) => bursts[bikes.exposure[i]!]!)).size >= LEAST_BURSTS;
    if (isOften && !isAlsoMain(list, bikes)) for (const i of list) standing.add(i);
  }
  return standing;
}

function backgroundBikes({ count, exposure, subjects }: Bikes): readonly number[] {
  const largest = new Map<number, number>();
  for (let i = 0; i < count; i++)
    largest.set(exposure[i]!, Math.max(largest.get(exposure[i]!) ?? 0, areaOf(subjects[i]!.box)));
  return Array.from({ length: count }, (_, i) => i).filter((i) => {
    const { isMain, riderBox, box } = subjects[i]!;
    return !isMain && riderBox === undefined && areaOf(box) <= MOST_AREA_OF_MAIN * largest.get(exposure[i]!)!;
  });
}

/** Sets in which each is alike to the first. */
function alikeSets(candidates: readonly number[], bikes: Bikes, least: number): readonly (readonly number[])[] {
  const sets: number[][] = [];
  for (const i of candidates) {
    const own = sets.find(([first]) => likeness(bikes, i, first!) >= least);
    if (own === undefined) sets.push([i]);
    else own.push(i);
  }
  return sets;
}

function isAlsoMain(list: readonly number[], bikes: Bikes): boolean {
  const [first, ...others] = list;
  const among = others.reduce((sum, i) => sum + likeness(bikes, first!, i), 0) / Math.max(1, others.length);
  return bikes.subjects.some(({ isMain }, i) => isMain && likeness(bikes, first!, i) >= among);
}

const likeness = (bikes: Bikes, a: number, b: number): number =>
  dotRows(bikes.descriptors, a, bikes.descriptors, b, bikes.dimensions);

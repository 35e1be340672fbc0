/**
 * Riders whom the laps plainly keep apart: pass after pass of one lies closer to the other's than a lap. On simulated days
 * (seeds 1 and 4 of two strengths of descriptor) this holds for half of the pairs of one group, and for no two whole pieces
 * of one rider.
 */
import type { FoundDay } from '../foundDay.js';
import { isBelowLine } from './confidence.js';

/** Of the rider with fewer such passes; a wrong pass or two forbid right pairs, too. */
const LEAST_PASSES = 3;
/** Of the smaller rider's passes. */
const LEAST_SHARE = 0.25;

/** @returns of two bikes the riders they were found to be, where laps forbid that these are one; else null. */
export function lapsAgainst({ clustering, field, passes, seen }: FoundDay): (a: number, b: number) => string | null {
  const { clusters, labels, ties } = clustering;
  const known = new Map<string, boolean>();
  let passOf: Int32Array | null = null;
  const riderOf = (bike: number): number => {
    passOf ??= passOfBikes(passes, seen.bikes.count);
    const pass = passOf[bike] ?? -1;
    // A word about a pass below the line says nothing about the rider it was guessed to be.
    return pass < 0 || isBelowLine(ties[pass]) ? -1 : labels[pass]!;
  };
  const areForbidden = (first: number, second: number): boolean => {
    const [one, other] = [clusters[first]!.passes, clusters[second]!.passes];
    const ofOne = one.filter((p) => other.some((q) => field.cannotBeOne(p, q))).length;
    const ofOther = other.filter((q) => one.some((p) => field.cannotBeOne(p, q))).length;
    const against = Math.min(ofOne, ofOther);
    return against >= LEAST_PASSES && against > LEAST_SHARE * Math.min(one.length, other.length);
  };
  return (a, b) => {
    const [first, second] = [riderOf(a), riderOf(b)].sort((one, other) => one - other) as [number, number];
    if (first < 0 || first === second) return null;
    const key = `${first} ${second}`;
    const isForbidden = known.get(key) ?? areForbidden(first, second);
    known.set(key, isForbidden);
    return isForbidden ? key : null;
  };
}

function passOfBikes(passes: FoundDay['passes'], count: number): Int32Array {
  const passOf = new Int32Array(count).fill(-1);
  passes.forEach(({ bikes }, p) => {
    for (const i of bikes) passOf[i] = p;
  });
  return passOf;
}

/**
 * Chooses the look that tells bikes apart on this day, without knowing any of them: from a pass to its nearest in
 * another session or at another spot, and back to the nearest where it came from. Who comes back to a pass that cannot
 * be the same bike has been led astray; the look that leads astray least is used, of
 * equals the one that knows most.
 */
import { dotRows } from '../descriptors.js';
import type { Field } from './field.js';
import { type Look, placeOf } from './looks.js';

const MOST_TRIALS = 150;
/** Each pass is tried against this many other places, nearest in time first. */
const PLACES_TRIED = 4;

export function chooseLook(looks: readonly Look[], field: Field): Look {
  if (looks.length === 1) return looks[0]!;
  const astray = looks.map((look) => shareAstray(look, field));
  return looks[astray.lastIndexOf(Math.min(...astray))]!;
}

export function shareAstray(look: Look, field: Field): number {
  const places = new Map<string, number[]>();
  field.passes.forEach((pass, p) => {
    const list = places.get(placeOf(pass));
    if (list === undefined) places.set(placeOf(pass), [p]);
    else list.push(p);
  });
  const stride = Math.max(1, Math.floor(field.passes.length / MOST_TRIALS));
  let astray = 0;
  let trials = 0;
  for (let p = 0; p < field.passes.length; p += stride)
    for (const other of othersOf(places, p, field)) {
      const there = nearest(look, p, other);
      const back = nearest(look, there, places.get(placeOf(field.passes[p]!))!);
      trials++;
      if (back !== p && field.cannotBeOne(p, back)) astray++;
    }
  return trials === 0 ? 1 : astray / trials;
}

/** Passes of the nearest few places of the same group. */
function othersOf(
  places: ReadonlyMap<string, readonly number[]>,
  p: number,
  field: Field,
): readonly (readonly number[])[] {
  const own = field.passes[p]!;
  const group = field.groupOf[own.session];
  return [...places]
    .filter(([place, list]) => place !== placeOf(own) && field.groupOf[field.passes[list[0]!]!.session] === group)
    .sort(([, a], [, b]) => distance(field, a, own.start) - distance(field, b, own.start) || a[0]! - b[0]!)
    .slice(0, PLACES_TRIED)
    .map(([, list]) => list);
}

const distance = (field: Field, list: readonly number[], start: number): number =>
  Math.abs(field.passes[list[0]!]!.start - start);

function nearest(look: Look, p: number, among: readonly number[]): number {
  let best = among[0]!;
  let likeness = Number.NEGATIVE_INFINITY;
  for (const q of among) {
    if (q === p) continue;
    const value = dotRows(look.rows, p, look.rows, q, look.dimensions);
    if (value <= likeness) continue;
    likeness = value;
    best = q;
  }
  return best;
}

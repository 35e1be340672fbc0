/**
 * Chooses the look that tells bikes apart on this day, without knowing any of them: from a pass to its nearest in
 * another session and back to the nearest in its own. Who comes back to a pass that cannot be the same bike has been
 * led astray; the look that leads astray least is used.
 */
import { dotRows } from '../descriptors.js';
import type { Field } from './field.js';
import type { Look } from './looks.js';

const MOST_TRIALS = 160;

export function chooseLook(looks: readonly Look[], field: Field): Look {
  if (looks.length === 1) return looks[0]!;
  const astray = looks.map((look) => shareAstray(look, field));
  const best = astray.indexOf(Math.min(...astray));
  return looks[best]!;
}

export function shareAstray(look: Look, field: Field): number {
  const bySession = new Map<number, number[]>();
  field.passes.forEach(({ session }, p) => {
    const list = bySession.get(session);
    if (list === undefined) bySession.set(session, [p]);
    else list.push(p);
  });
  const stride = Math.max(1, Math.floor(field.passes.length / MOST_TRIALS));
  let astray = 0;
  let trials = 0;
  for (let p = 0; p < field.passes.length; p += stride) {
    const own = field.passes[p]!.session;
    const there = nearest(look, p, othersOf(bySession, own, field));
    if (there === -1) continue;
    const back = nearest(look, there, bySession.get(own)!);
    trials++;
    if (back !== p && field.cannotBeOne(p, back)) astray++;
  }
  return trials === 0 ? 1 : astray / trials;
}

/** Passes of the nearest few sessions of the same group. */
function othersOf(bySession: ReadonlyMap<number, readonly number[]>, own: number, field: Field): readonly number[] {
  const others = [...bySession.keys()]
    .filter((s) => s !== own && s >= 0 && field.groupOf[s] === field.groupOf[own])
    .sort((a, b) => Math.abs(a - own) - Math.abs(b - own) || a - b)
    .slice(0, 2);
  return others.flatMap((s) => bySession.get(s)!);
}

function nearest(look: Look, p: number, among: readonly number[]): number {
  let best = -1;
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

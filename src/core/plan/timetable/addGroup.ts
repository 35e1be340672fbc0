/**
 * A group more, in one gesture. Sliding, its session follows each round and the others make way. By the clock the round keeps
 * its time and all share it, as four groups of 15 min do the hour of three of 20: that is another timetable, not a slip.
 */
import { type WallMs, wallMsOf } from '../../units.js';
import type { Group, Timetable, TimetableSlot } from '../types.js';
import { applySlips } from './applySlips.js';
import { slotsOfDay } from './dayParts.js';
import type { TimetableInForce } from './inForce.js';
import { nameOfNth } from './naming.js';
import { dateOf } from './sentences.js';
import type { Slip } from './types.js';

export type GroupAdded =
  | { readonly kind: 'slip'; readonly slip: Extract<Slip, { kind: 'group-added' }> }
  | { readonly kind: 'timetable'; readonly timetable: Timetable };

const MINUTE_MS = 60_000;

/** `from`: rounds that begin before stay as they are. Null where no round is left that day. */
export function addGroup(inForce: TimetableInForce, group: Group, day: string, from: WallMs): GroupAdded | null {
  const { said, timetable } = inForce;
  const before = inForce.effects.map(({ slip }) => slip);
  const rounds = roundsOf(slotsOfDay(timetable, day)).filter((round) => round[0]!.start >= from);
  if (rounds.length === 0) return null;
  const taken = new Set(slotsOfDay(timetable, day).map(({ name }) => name));
  const names = namesFor(group.key, taken);
  if (timetable.slipRule === 'sliding') {
    let slip: Slip & { kind: 'group-added' } = { kind: 'group-added', group, slots: [] };
    for (const round of rounds) {
      // Each new session moves the rounds behind it, and lunch gives way: where a round ends is seen when all before is in.
      const slots: readonly TimetableSlot[] = applySlips(said, [...before, slip]).timetable.slots;
      const last = slots.find(({ name, start }) => name === round.at(-1)!.name && dateOf(start) === day);
      if (!last) break;
      const end = wallMsOf(last.end + (last.end - last.start));
      slip = { ...slip, slots: [...slip.slots, { name: names(), group: group.key, start: last.end, end }] };
    }
    return { kind: 'slip', slip };
  }
  const shared = rounds.flatMap((round) => share(round, { name: names(), group: group.key }));
  const replaced = new Set(rounds.flat());
  const slots = [...timetable.slots.filter((slot) => !replaced.has(slot)), ...shared].sort((a, b) => a.start - b.start);
  return { kind: 'timetable', timetable: { ...timetable, groups: [...timetable.groups, group], slots } };
}

/** Sessions in a row in which no group comes twice. */
function roundsOf(slots: readonly TimetableSlot[]): readonly (readonly TimetableSlot[])[] {
  const rounds: TimetableSlot[][] = [];
  for (const slot of slots) {
    const round = rounds.at(-1);
    const isNew =
      !round || round.some(({ group }) => group === slot.group) || slot.start - round.at(-1)!.end > MINUTE_MS * 20;
    if (isNew) rounds.push([slot]);
    else round.push(slot);
  }
  return rounds;
}

/** The round's time in whole minutes, the new one last. */
function share(
  round: readonly TimetableSlot[],
  added: Pick<TimetableSlot, 'name' | 'group'>,
): readonly TimetableSlot[] {
  const [start, end] = [round[0]!.start, round.at(-1)!.end];
  const each = Math.floor((end - start) / (round.length + 1) / MINUTE_MS) * MINUTE_MS;
  return [...round, added].map((slot, i) => ({
    ...slot,
    start: wallMsOf(start + i * each),
    end: wallMsOf(start + (i + 1) * each),
  }));
}

function namesFor(key: string, taken: Set<string>): () => string {
  let nth = 0;
  return () => {
    do nth++;
    while (taken.has(nameOfNth(key, nth)));
    return nameOfNth(key, nth);
  };
}

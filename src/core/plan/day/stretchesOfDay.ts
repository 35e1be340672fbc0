/** A timetable as stretches, and its long gaps as breaks at the van. */
import { millisecondsOf, type WallMs, wallMsOf } from '../../units.js';
import type { Timetable, TimetableSlot } from '../types.js';
import { minutesOf } from './legs.js';
import type { Stretch, VanBreak } from './types.js';

/** A gap from here on is a break: lunch, with the cards at the van. */
const LEAST_BREAK_MINUTES = 30;
/** Both cards are in after some minutes; the rest is for eating and shade. */
const AT_VAN_MINUTES = 30;

export function stretchesOfDay({ slots }: Timetable, isHalved: boolean, from: WallMs | null): Stretch[] {
  return [...slots]
    .sort((a, b) => a.start - b.start)
    .filter(({ start }) => from === null || start >= from)
    .flatMap((slot) => (isHalved ? halvesOf(slot) : [stretchOf(slot, slot.name, slot.start, slot.end)]));
}

function halvesOf(slot: TimetableSlot): Stretch[] {
  const middle = wallMsOf(slot.start + millisecondsOf((slot.end - slot.start) / 2));
  return [
    stretchOf(slot, `${slot.name} first half`, slot.start, middle),
    stretchOf(slot, `${slot.name} second half`, middle, slot.end),
  ];
}

const stretchOf = (slot: TimetableSlot, name: string, from: WallMs, to: WallMs): Stretch => ({
  name,
  slot: slot.name,
  group: slot.group,
  from,
  to,
  isSighting: slot.isSighting ?? false,
});

/** Half of a short break is enough for the cards; a way there and back must fit as well. */
export function vanBreaksOf({ slots }: Timetable, from: WallMs | null): VanBreak[] {
  const inOrder = [...slots].sort((a, b) => a.start - b.start);
  return inOrder.slice(1).flatMap((next, i): VanBreak[] => {
    const gap = { from: inOrder[i]!.end, to: next.start };
    const minutes = minutesOf(gap.to - gap.from);
    if (minutes < LEAST_BREAK_MINUTES || (from !== null && gap.to <= from)) return [];
    const left = from === null || from <= gap.from ? gap : { from, to: gap.to };
    return [{ ...left, leastMinutes: Math.min(AT_VAN_MINUTES, Math.floor(minutesOf(left.to - left.from) / 2)) }];
  });
}

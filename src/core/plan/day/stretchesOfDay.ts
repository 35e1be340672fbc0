/** A timetable as stretches, and its long gaps as breaks at the van. */
import { millisecondsOf, type WallMs, wallMsOf } from '../../units.js';
import type { Timetable, TimetableSlot } from '../types.js';
import { minutesOf } from './legs.js';
import type { Stretch, VanBreak } from './types.js';

/** A gap from here on is a break: lunch, with the cards at the van. */
const LEAST_BREAK_MINUTES = 30;
/** An open pit lane, or a long race: one does not stand half a morning at one spot because no session ends. Own convention. */
const LONG_MINUTES = 50;
const PART_MINUTES = 30;
/** Both cards are in after some minutes; the rest is for eating and shade. */
const AT_VAN_MINUTES = 30;

export function stretchesOfDay({ slots }: Timetable, isHalved: boolean, from: WallMs | null): Stretch[] {
  return [...slots]
    .sort((a, b) => a.start - b.start)
    .filter(({ start }) => from === null || start >= from)
    .flatMap((slot) => (isHalved ? piecesOf(slot) : [wholeOf(slot)]));
}

/** By every name that a plan may have for a piece of the day: a slip can make a long session short after it was taken. */
export const stretchesByName = (slots: readonly TimetableSlot[]): readonly Stretch[] =>
  slots.flatMap((slot) => [wholeOf(slot), ...halvesOf(slot), ...partsOf(slot)]);

const wholeOf = (slot: TimetableSlot): Stretch => stretchOf(slot, slot.name, slot.start, slot.end);

const isLong = ({ start, end }: TimetableSlot): boolean => minutesOf(end - start) > LONG_MINUTES;
const piecesOf = (slot: TimetableSlot): Stretch[] => (isLong(slot) ? partsOf(slot) : halvesOf(slot));

/** What is wished of: a session, or the parts of a long one. */
export const spokenOf = (slot: TimetableSlot): readonly Stretch[] => (isLong(slot) ? partsOf(slot) : [wholeOf(slot)]);

/** Counted from the start, each half an hour, so that a part keeps its name when the end moves. */
function partsOf(slot: TimetableSlot): Stretch[] {
  const count = Math.max(1, Math.round(minutesOf(slot.end - slot.start) / PART_MINUTES));
  const begin = (part: number) => wallMsOf(slot.start + part * PART_MINUTES * 60_000);
  return Array.from({ length: count }, (_, part) =>
    stretchOf(slot, `${slot.name} part ${part + 1}`, begin(part), part === count - 1 ? slot.end : begin(part + 1)),
  );
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

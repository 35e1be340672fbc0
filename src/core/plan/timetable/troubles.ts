/** What does not fit together in a timetable, each in a sentence. */
import { epochOfWall, wallOccurrence } from '../../numeric/wallTime.js';
import type { WallMs } from '../../units.js';
import type { Pause, TimetableSlot } from '../types.js';

const clockOf = (wall: WallMs): string => new Date(wall).toISOString().slice(11, 16);
const dateOf = (wall: WallMs): string => new Date(wall).toISOString().slice(0, 10);

export function troublesOf(
  slots: readonly TimetableSlot[],
  pauses: readonly Pause[],
  { zone, days }: { readonly zone: string; readonly days: readonly string[] },
): readonly string[] {
  return [
    ...overlaps(slots),
    ...inPauses(slots, pauses),
    ...otherDays(slots, days),
    ...slots.flatMap((slot) => clockChange(slot, zone)),
  ];
}

/** `slots` in order of time. */
const overlaps = (slots: readonly TimetableSlot[]): readonly string[] =>
  slots.flatMap((slot, i) => {
    const next = slots[i + 1];
    return next && next.start < slot.end
      ? [`${next.name} starts at ${clockOf(next.start)}, before ${slot.name} ends at ${clockOf(slot.end)}.`]
      : [];
  });

const inPauses = (slots: readonly TimetableSlot[], pauses: readonly Pause[]): readonly string[] =>
  slots.flatMap((slot) => {
    const pause = pauses.find(({ start, end }) => slot.start < end && slot.end > start);
    return pause
      ? [`${slot.name} runs into ${pause.name.toLowerCase()}, ${clockOf(pause.start)} to ${clockOf(pause.end)}.`]
      : [];
  });

function otherDays(slots: readonly TimetableSlot[], days: readonly string[]): readonly string[] {
  const others = new Set(slots.map(({ start }) => dateOf(start)).filter((date) => !days.includes(date)));
  return [...others].map((date) => `${date} is no day of this meeting, which is ${days.join(', ')}.`);
}

/** What the clocks of the zone do to a session: times that never or twice come, and its real length. */
function clockChange(slot: TimetableSlot, zone: string): readonly string[] {
  const odd = [slot.start, slot.end].flatMap((wall) => {
    const comes = wallOccurrence(wall, zone);
    if (comes === 'once') return [];
    const what =
      comes === 'never'
        ? 'does not exist: the clocks go forward over it'
        : 'comes twice, for the clocks go back; the first is meant';
    return [`${slot.name}: ${clockOf(wall)} on ${dateOf(wall)} ${what}.`];
  });
  const minutes = realMinutes(slot, zone);
  const onTheWall = (slot.end - slot.start) / 60_000;
  return minutes === onTheWall
    ? odd
    : [...odd, `${slot.name} lasts ${minutes} min, though the clock says ${onTheWall}: it changes meanwhile.`];
}

/** What passes between start and end, whatever the clocks do. */
export const realMinutes = ({ start, end }: Pick<TimetableSlot, 'start' | 'end'>, zone: string): number =>
  (epochOfWall(end, zone) - epochOfWall(start, zone)) / 60_000;

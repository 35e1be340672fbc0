/** One gesture at the side of the track → what it would say, what would follow from it, or why it cannot be said now. */
import type { Decision } from '../../core/log/types.js';
import {
  addGroup,
  lunchOf,
  slipOn,
  slotsOfDay,
  type TimetableInForce,
  timetableInForce,
} from '../../core/plan/timetable/index.js';
import type { Slip } from '../../core/plan/timetable/types.js';
import type { Timetable, TimetableSlot } from '../../core/plan/types.js';
import { millisecondsOf, type WallMs, wallMsOf } from '../../core/units.js';
import type { BeforeView } from '../../server/types.js';
import { clockOf } from '../line/lineGeometry.js';

export type Gesture =
  | {
      readonly kind: 'ready';
      readonly text: string;
      readonly decisions: readonly Decision[];
      readonly follows: readonly string[];
    }
  | { readonly kind: 'not-now'; readonly why: string };

export interface SlipWish {
  readonly slot: string;
  readonly minutes: number;
  readonly groupName: string;
}

export type SlipGestures = Readonly<Record<'late' | 'red' | 'again' | 'lunch' | 'group' | 'drop', Gesture>>;

const MINUTE_MS = 60_000;
const notNow = (why: string): Gesture => ({ kind: 'not-now', why });

type Shown = Pick<BeforeView, 'date' | 'now' | 'said' | 'slips'>;

/** As it runs after what slipped; null where no timetable is said. */
export const runsOf = ({ said, slips }: Pick<BeforeView, 'said' | 'slips'>): TimetableInForce | null =>
  said === null
    ? null
    : timetableInForce([
        { kind: 'timetable', timetable: said },
        ...slips.map(({ slip }) => ({ kind: 'slip' as const, slip })),
      ]);

/** Of the drawn day; null where nothing runs on it. */
export function slipGestures(view: Shown, wish: SlipWish): SlipGestures | null {
  const { date } = view;
  const runs = runsOf(view);
  const slots = runs === null ? [] : slotsOfDay(runs.timetable, date);
  if (runs === null || slots.length === 0) return null;
  return {
    late: late(runs, date, slots, wish),
    red: redNow(view, runs, slots),
    again: onAgain(view, runs),
    lunch: lunch(runs, slots, wish.minutes),
    group: groupMore(view, runs, wish.groupName),
    drop: slots.some(({ name }) => name === wish.slot)
      ? ready(runs, `${wish.slot} does not run`, { kind: 'dropped', slot: wish.slot, on: date })
      : notNow('Choose a session first.'),
  };
}

const ready = (runs: TimetableInForce, text: string, slip: Slip): Gesture => ({
  kind: 'ready',
  text,
  decisions: [{ kind: 'slip', slip }],
  follows: slipOn(runs, slip).sentences,
});

function late(
  runs: TimetableInForce,
  on: string,
  slots: readonly TimetableSlot[],
  { slot, minutes }: SlipWish,
): Gesture {
  if (!slots.some(({ name }) => name === slot)) return notNow('Choose a session first.');
  if (!Number.isFinite(minutes) || minutes === 0) return notNow('Say by how many minutes first.');
  const byMs = millisecondsOf(minutes * MINUTE_MS);
  const text = `${slot} started ${Math.abs(minutes)} min ${minutes < 0 ? 'early' : 'late'}`;
  return ready(runs, text, { kind: 'late', slot, on, byMs });
}

/** Whole minutes, so that what is said can be read back. */
const minuteOf = (now: WallMs): WallMs => wallMsOf(Math.floor(now / MINUTE_MS) * MINUTE_MS);

function redNow({ now }: Shown, runs: TimetableInForce, slots: readonly TimetableSlot[]): Gesture {
  const at = minuteOf(now);
  const running = slots.find(({ start, end }) => start <= at && at < end);
  if (!running) return notNow(`By the timetable nobody is out at ${clockOf(at)}.`);
  return ready(runs, `Red flag at ${clockOf(at)}, ${running.name}`, { kind: 'red-flag', at });
}

/** Says of the last flag that the same session goes on. */
function onAgain({ now, slips }: Shown, runs: TimetableInForce): Gesture {
  const flag = slips.findLast(({ slip }) => slip.kind === 'red-flag')?.slip;
  const at = minuteOf(now);
  if (flag?.kind !== 'red-flag' || flag.resumesAt !== undefined || flag.at >= at)
    return notNow('No red flag stands that was said before this minute.');
  const slip: Slip = { ...flag, resumesAt: at };
  const text = `Red flag at ${clockOf(flag.at)}, on again at ${clockOf(at)}`;
  return ready(runs, text, slip);
}

function lunch(runs: TimetableInForce, slots: readonly TimetableSlot[], minutes: number): Gesture {
  const gap = lunchOf(slots, runs.timetable.pauses ?? []);
  if (!gap) return notNow('The timetable has no lunch on this day.');
  if (!Number.isFinite(minutes) || minutes === 0) return notNow('Say by how many minutes first.');
  const text = `Lunch is ${Math.abs(minutes)} min ${minutes < 0 ? 'longer' : 'shorter'}`;
  return ready(runs, text, { kind: 'lunch-shorter', at: gap.start, byMs: millisecondsOf(minutes * MINUTE_MS) });
}

function groupMore({ now, date }: Shown, runs: TimetableInForce, name: string): Gesture {
  const words = name.trim();
  if (words === '') return notNow('Name the group first.');
  const key = keyFor(words, runs.timetable);
  const added = addGroup(runs, { key, name: words }, date, now);
  if (added === null) return notNow('No round is left on this day.');
  const text = `${words} joined the timetable`;
  if (added.kind === 'slip') return ready(runs, text, added.slip);
  const shared = added.timetable.slots.filter(({ group }) => group === key);
  return {
    kind: 'ready',
    text,
    decisions: [{ kind: 'timetable', timetable: added.timetable }],
    follows: shared.map(
      (slot) => `${slot.name} from ${clockOf(slot.start)} to ${clockOf(slot.end)}; its round shares the time.`,
    ),
  };
}

/** The first letter that no group has, else the first two, else more. */
function keyFor(name: string, { groups }: Timetable): string {
  const letters = name.toUpperCase().replace(/[^\p{L}\p{N}]/gu, '');
  for (let length = 1; length <= letters.length; length++) {
    const key = letters.slice(0, length);
    if (!groups.some((group) => group.key === key)) return key;
  }
  return `${letters}${groups.length + 1}`;
}

/** The one out at this moment, else the next, else the last. */
export function slotNow(slots: readonly TimetableSlot[], now: WallMs): string {
  return (slots.find(({ end }) => end > now) ?? slots.at(-1))?.name ?? '';
}

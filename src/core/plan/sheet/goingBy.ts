/** Sessions that nobody stands at, so that none falls out of the day without a word. Rule PL609. */
import { type WallMs, wallMsOf } from '../../units.js';
import type { TimetableSlot } from '../types.js';
import type { PlainStay } from './stays.js';
import type { SheetInput, SheetRow } from './types.js';
import { listed } from './words.js';

/** Less of a session than this and it goes by. */
const LEAST_SHARE = 1 / 3;
/** More are told by the first and the last. */
const MOST_NAMED = 4;
const NOBODY = 'nobody stands there';

export interface GoingBy {
  readonly from: WallMs;
  readonly to: WallMs;
  readonly words: string;
}

/** Of all photographers together, in order of time; neighbours that go by for one reason stand in one line. */
export function goingBy({ slots, from, unseenWhy }: SheetInput, stays: readonly PlainStay[]): readonly GoingBy[] {
  const reasonOf = ({ name }: TimetableSlot): string => unseenWhy?.get(name) ?? NOBODY;
  const runs: { slots: TimetableSlot[]; why: string }[] = [];
  let isBroken = true;
  for (const slot of slots.toSorted((a, b) => a.start - b.start)) {
    const isUnseen = slot.end > (from ?? Number.NEGATIVE_INFINITY) && !isStoodAt(slot, stays);
    const last = runs.at(-1);
    if (isUnseen && !isBroken && last!.why === reasonOf(slot)) last!.slots.push(slot);
    else if (isUnseen) runs.push({ slots: [slot], why: reasonOf(slot) });
    isBroken = !isUnseen;
  }
  return runs.map((run) => ({
    from: run.slots[0]!.start,
    to: wallMsOf(Math.max(...run.slots.map(({ end }) => end))),
    words: `${namesOf(run.slots)} ${run.slots.length === 1 ? 'goes' : 'go'} by: ${run.why}.`,
  }));
}

function isStoodAt({ start, end }: TimetableSlot, stays: readonly PlainStay[]): boolean {
  const shares = stays.map((stay) => Math.max(0, Math.min(end, stay.to) - Math.max(start, stay.begins)));
  return shares.reduce((sum, ms) => sum + ms, 0) >= LEAST_SHARE * (end - start);
}

const namesOf = (slots: readonly TimetableSlot[]): string =>
  slots.length <= MOST_NAMED
    ? listed(slots.map(({ name }) => name))
    : `${slots[0]!.name} to ${slots.at(-1)!.name}, ${slots.length} sessions,`;

export const lineOf = ({ from, words }: GoingBy): SheetRow => ({ kind: 'line', is: 'going-by', at: from, words });

/** What one slip changed, slot by slot, and in sentences: sessions that move by the same are said together. */
import { millisecondsOf } from '../../units.js';
import type { Timetable, TimetableSlot } from '../types.js';
import { lunchOf, slotsOfDay } from './dayParts.js';
import { clockOf, dateOf, laterOrEarlier, minutesOf } from './sentences.js';
import type { SlotChange } from './types.js';

const keyOf = (slot: TimetableSlot): string => `${dateOf(slot.start)} ${slot.name}`;

export function changesOf(
  before: Timetable,
  after: Timetable,
): { readonly changes: readonly SlotChange[]; readonly sentences: readonly string[] } {
  const were = new Map(before.slots.map((slot) => [keyOf(slot), slot]));
  const are = new Map(after.slots.map((slot) => [keyOf(slot), slot]));
  const changes = [
    ...before.slots.flatMap((slot) => changeOf(slot, are.get(keyOf(slot)))),
    ...after.slots.filter((slot) => !were.has(keyOf(slot))).map((slot) => added(slot)),
  ];
  const days = [...new Set(changes.map(({ day }) => day))];
  return {
    changes,
    sentences: [...sentencesOf(changes), ...days.flatMap((day) => lunchSentence(before, after, day))],
  };
}

const added = (slot: TimetableSlot): SlotChange => ({
  slot: slot.name,
  day: dateOf(slot.start),
  kind: 'added',
  start: slot.start,
});

function changeOf(was: TimetableSlot, is: TimetableSlot | undefined): readonly SlotChange[] {
  const about = { slot: was.name, day: dateOf(was.start) };
  if (!is) return [{ ...about, kind: 'dropped' }];
  const longer = is.end - is.start - (was.end - was.start);
  if (longer < 0) return [{ ...about, kind: 'cut', byMs: millisecondsOf(-longer), start: is.start, end: is.end }];
  if (longer > 0) return [{ ...about, kind: 'longer', byMs: millisecondsOf(longer), end: is.end }];
  return is.start === was.start
    ? []
    : [{ ...about, kind: 'moved', byMs: millisecondsOf(is.start - was.start), start: is.start }];
}

type Moved = Extract<SlotChange, { kind: 'moved' }>;

function sentencesOf(changes: readonly SlotChange[]): readonly string[] {
  const sentences: string[] = [];
  let run: Moved[] = [];
  const close = () => {
    if (run.length > 0) sentences.push(movedSentence(run));
    run = [];
  };
  for (const change of changes) {
    if (change.kind !== 'moved' || change.byMs !== run[0]?.byMs) close();
    if (change.kind === 'moved') run.push(change);
    else sentences.push(sentenceOf(change));
  }
  close();
  const dropped = changes.filter(({ kind }) => kind === 'dropped').map(({ slot }) => slot);
  if (dropped.length > 0) sentences.push(`${listed(dropped)} will not run.`);
  return sentences.filter((sentence) => sentence !== '');
}

function movedSentence(run: readonly Moved[]): string {
  const [first, last] = [run[0]!, run.at(-1)!];
  const how = `${minutesOf(first.byMs)} ${laterOrEarlier(first.byMs)}`;
  if (run.length === 1) return `${first.slot} starts ${how}, at ${clockOf(first.start)}.`;
  return `${first.slot} to ${last.slot} start ${how}: ${first.slot} at ${clockOf(first.start)}.`;
}

function sentenceOf(change: Exclude<SlotChange, { kind: 'moved' }>): string {
  switch (change.kind) {
    case 'cut':
      return `${change.slot} is ${minutesOf(change.byMs)} shorter: ${clockOf(change.start)} to ${clockOf(change.end)}.`;
    case 'longer':
      return `${change.slot} ends ${minutesOf(change.byMs)} later, at ${clockOf(change.end)}.`;
    case 'added':
      return `${change.slot} starts at ${clockOf(change.start)}.`;
    case 'dropped':
      return '';
  }
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

function lunchSentence(before: Timetable, after: Timetable, day: string): readonly string[] {
  const was = lunchOf(slotsOfDay(before, day), before.pauses ?? []);
  const is = lunchOf(slotsOfDay(after, day), after.pauses ?? []);
  if (!was || !is) return [];
  const by = is.end - is.start - (was.end - was.start);
  const how = `${minutesOf(by)} ${by < 0 ? 'shorter' : 'longer'}`;
  const length = minutesOf(is.end - is.start);
  return by === 0 ? [] : [`Lunch is ${how}: ${clockOf(is.start)} to ${clockOf(is.end)}, ${length}.`];
}

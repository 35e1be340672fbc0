import { expect, it } from 'vitest';
import { readTimetable, rowsOfText } from '../../core/plan/timetable/index.js';
import type { Timetable, TimetableSlot } from '../../core/plan/types.js';
import { wallMsOf } from '../../core/units.js';
import { withOtherDays } from './otherDays.js';

const DATE = '2026-09-19';
const at = (clock: string, date = DATE) => wallMsOf(Date.parse(`${date}T${clock}:00Z`));
const read = (text: string) =>
  readTimetable(rowsOfText(text), {
    date: DATE,
    days: [DATE, '2026-09-20'],
    slipRule: 'sliding',
    zone: 'Europe/London',
  }).timetable as Timetable;
const sunday = (name: string): TimetableSlot => ({
  name,
  group: 'F',
  start: at('09:00', '2026-09-20'),
  end: at('09:20', '2026-09-20'),
});
const OTHERS = {
  groups: [
    { key: 'F', name: 'Fast' },
    { key: 'N', name: 'N' },
  ],
  slots: [sunday('F1')],
  pauses: [],
  curfews: [at('17:00', '2026-09-20')],
};

it('DK86: saying one day again leaves the meeting’s other days as they were', () => {
  const whole = withOtherDays(read('N1 Novice 09:00-09:20'), OTHERS);
  expect(whole.slots.map((slot) => slot.name)).toEqual(['N1', 'F1']);
  expect(whole.groups).toEqual([
    { key: 'N', name: 'Novice' },
    { key: 'F', name: 'Fast' },
  ]);
  expect(whole.curfews).toEqual([at('17:00', '2026-09-20')]);
});

it('DK86: lines that name another day say that day anew', () => {
  const whole = withOtherDays(read('N1 Novice 09:00-09:20\nSunday\nF2 Fast 10:00-10:20'), OTHERS);
  expect(whole.slots.map((slot) => slot.name)).toEqual(['N1', 'F2']);
  expect(whole.curfews).toBeUndefined();
});

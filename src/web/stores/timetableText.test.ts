import { describe, expect, it } from 'vitest';
import type { SpotId } from '../../core/ids.js';
import type { Timetable, TimetableSlot } from '../../core/plan/types.js';
import { readLap, readStands, readTimetable, withOtherDays } from './timetableText.js';

const DATE = '2026-09-19';
const at = (clock: string) => Date.parse(`${DATE}T${clock}:00Z`);
const SPOTS = [
  { id: 'beacon' as SpotId, number: 1, name: 'Beacon' },
  { id: 'gannet' as SpotId, number: 2, name: 'Gannet' },
];

describe('a pasted timetable', () => {
  it('DK80: name, group and times are read, with the groups in order of coming', () => {
    const read = readTimetable('N1 Novice 09:00-09:20\nI1 Inters 09.20 – 09.40\n\nN2 10:00 to 10:20', DATE, 'sliding');
    expect(read).toEqual({
      kind: 'read',
      value: {
        slipRule: 'sliding',
        groups: [
          { key: 'N', name: 'Novice' },
          { key: 'I', name: 'Inters' },
        ],
        slots: [
          { name: 'N1', group: 'N', start: at('09:00'), end: at('09:20') },
          { name: 'I1', group: 'I', start: at('09:20'), end: at('09:40') },
          { name: 'N2', group: 'N', start: at('10:00'), end: at('10:20') },
        ],
      },
    });
  });

  it('DK81: sighting laps are marked', () => {
    const read = readTimetable('N1 Novice sighting 09:00-09:20', DATE, 'clock-fixed');
    expect(read).toMatchObject({ value: { groups: [{ name: 'Novice' }], slots: [{ isSighting: true }] } });
  });

  it('DK82: each line that cannot be read is named with what was expected', () => {
    const read = readTimetable(
      'N1 Novice 09:00\nI1 Inters 09:40-09:20\n1 10:00-10:20\nF1 25:00-26:00',
      DATE,
      'sliding',
    );
    expect(read.kind === 'wrong' && read.sentences).toEqual([
      'Line 1, “N1 Novice 09:00”: expected two times at its end, as 09:00-09:20.',
      'Line 2, “I1 Inters 09:40-09:20”: expected its end after its start.',
      'Line 3, “1 10:00-10:20”: expected the group of 1, as “1 Novice 09:00-09:20”.',
      'Line 4, “F1 25:00-26:00”: expected times of a day, from 00:00 to 24:00.',
    ]);
    expect(readTimetable(' \n', DATE, 'sliding')).toEqual({ kind: 'nothing' });
  });

  it('DK83: one name for two sessions is refused', () => {
    const read = readTimetable('N1 09:00-09:20\nN1 10:00-10:20', DATE, 'sliding');
    expect(read).toEqual({ kind: 'wrong', sentences: ['N1 stands twice; each session needs its own name.'] });
  });

  it('DK84: stands are read by number or by name, and a name not used before is a new spot', () => {
    const stands = [
      { spot: 'beacon', from: at('08:56'), to: at('10:00') },
      { spot: 'gannet', from: at('10:06'), to: at('11:00') },
    ];
    expect(readStands('1 08:56-10:00\n2 Gannet 10:06-11:00', DATE, SPOTS)).toEqual({
      kind: 'read',
      value: { stands, spots: null },
    });
    expect(readStands('Old Strand 09:00-10:00\nold strand 13:00-13:30', DATE, SPOTS)).toEqual({
      kind: 'read',
      value: {
        stands: [
          { spot: 'old-strand', from: at('09:00'), to: at('10:00') },
          { spot: 'old-strand', from: at('13:00'), to: at('13:30') },
        ],
        spots: [...SPOTS, { id: 'old-strand', number: 3, name: 'Old Strand' }],
      },
    });
  });

  it('DK84: a number that no spot has is not taken for a name', () => {
    expect(readStands('7 09:00-10:00', DATE, SPOTS)).toEqual({
      kind: 'wrong',
      sentences: ['Line 1, “7 09:00-10:00”: expected the name of a spot before its times, as Beacon.'],
    });
  });

  it('DK85: a lap is minutes and seconds; anything else is answered with an example', () => {
    expect(readLap('1:35.4')).toEqual({ kind: 'read', value: 95_400 });
    expect(readLap(' ')).toEqual({ kind: 'nothing' });
    for (const wrong of ['95', '1:75', '0:04', 'fast'])
      expect(readLap(wrong)).toEqual({ kind: 'wrong', sentences: [expect.stringContaining('as 1:35.0')] });
  });

  it('DK86: saying one day again leaves the meeting’s other days as they were', () => {
    const read = readTimetable('N1 Novice 09:00-09:20', DATE, 'sliding');
    const other = {
      name: 'F1',
      group: 'F',
      start: at('09:00') + 86_400_000,
      end: at('09:20') + 86_400_000,
    } as TimetableSlot;
    const whole = withOtherDays((read as { value: Timetable }).value, {
      groups: [
        { key: 'F', name: 'Fast' },
        { key: 'N', name: 'N' },
      ],
      slots: [other],
    });
    expect(whole.slots.map((slot) => slot.name)).toEqual(['N1', 'F1']);
    expect(whole.groups).toEqual([
      { key: 'N', name: 'Novice' },
      { key: 'F', name: 'Fast' },
    ]);
  });
});

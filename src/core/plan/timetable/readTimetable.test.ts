import { describe, expect, it } from 'vitest';
import type { Timetable } from '../types.js';
import { type ReadTimetableOptions, readTimetable, rowsOfText, timetableText } from './index.js';
import type { TimetableLine } from './types.js';

const DATE = '2026-09-19';
const at = (clock: string, date = DATE) => Date.parse(`${date}T${clock}:00Z`);
const OPTIONS: ReadTimetableOptions = {
  date: DATE,
  days: [DATE, '2026-09-20'],
  slipRule: 'sliding',
  zone: 'Europe/London',
};

const read = (text: string, more: Partial<ReadTimetableOptions> = {}) =>
  readTimetable(rowsOfText(text), { ...OPTIONS, ...more });
const clockOf = (wall: number) => new Date(wall).toISOString().slice(11, 16);

/** One short line for each line that was read. */
const inShort = (line: TimetableLine): string => {
  switch (line.kind) {
    case 'session':
      return `${line.slot.name} ${line.groupName} ${clockOf(line.slot.start)}-${clockOf(line.slot.end)}`;
    case 'pause':
      return `${line.pause.kind} ${clockOf(line.pause.start)}-${clockOf(line.pause.end)}`;
    case 'curfew':
      return `curfew ${clockOf(line.curfew)}`;
    case 'day':
      return line.date;
    case 'heading':
      return `over: ${line.group}`;
    default:
      return line.kind;
  }
};
const short = (text: string) => read(text).lines.map(inShort);

describe('a pasted timetable', () => {
  it('PL200: name, group and times are read, with the groups in order of coming', () => {
    const { timetable, troubles } = read('N1 Novice 09:00-09:20\nI1 Inters 09.20 – 09.40\n\nN2 10:00 to 10:20');
    expect(troubles).toEqual([]);
    expect(timetable).toEqual({
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
    });
  });

  it.each([
    '16.00 open pit lane until 16:30',
    'Open pit lane from 16:00 till 16:30',
    '16:00 Offene Boxengasse bis 16:30',
  ])('PL229: an end may stand anywhere in its line: %s', (line) => {
    expect(short(line)).toEqual(['O1 Open pit lane 16:00-16:30']);
  });

  it('PL229: until when alone is no session, and names no group; of the end of the day it is all there is', () => {
    const { lines } = read('Novice until 09:20\nTrack closes until 17:00');
    expect(lines.map((line) => 'sentence' in line && line.sentence)[0]).toBe(
      'Line 1, “Novice until 09:20”: expected when it begins, as 09:00-09:20, but it only says until when.',
    );
    expect(inShort(lines[1]!)).toBe('curfew 17:00');
    expect(short('Novice starts at 9:00, ends 9:20')).toEqual(['N1 Novice 09:00-09:20']);
  });

  it('PL201: each line that is not understood is named with what was expected', () => {
    const { lines } = read('I1 Inters 09:40-09:20\n1 10:00-10:20\nF1 25:00-26:00');
    expect(lines.map((line) => 'sentence' in line && line.sentence)).toEqual([
      'Line 1, “I1 Inters 09:40-09:20”: expected its end after its start.',
      'Line 2, “1 10:00-10:20”: expected the group of 1, as “1 Novice 09:00-09:20”.',
      'Line 3, “F1 25:00-26:00”: expected times of a day, from 00:00 to 24:00.',
    ]);
    expect(read('N1 Novice 09:00').lines).toMatchObject([
      { sentence: 'Line 1, “N1 Novice 09:00”: expected an end or a length too, as 09:00-09:20.' },
    ]);
    expect(read(' \n')).toEqual({ lines: [], timetable: null, troubles: [] });
  });

  it('PL202: one name for two sessions of a day is refused; on another day it is another session', () => {
    const { lines } = read('N1 09:00-09:20\nN1 10:00-10:20\nSunday\nN1 09:00-09:20');
    expect(lines.map(inShort)).toEqual(['N1 N 09:00-09:20', 'not-understood', '2026-09-20', 'N1 N 09:00-09:20']);
    expect(lines[1]).toMatchObject({ sentence: expect.stringContaining('N1 stands twice') });
  });

  it('PL203: lunch, sighting laps, an open pit lane, the end of the day and what is not on track are told apart', () => {
    const text = [
      'Sign-on 07:30',
      '9:00 Novice (sighting laps)',
      '9:20 Inters',
      '9:40 Coffee',
      '10:00 Open pit lane',
      '12:00 Lunch',
      '13:00 Novice',
      '13:20 Inters 20 min',
      'Finish 17:00',
    ];
    const preview = read(text.join('\n'));
    expect(preview.lines.map(inShort)).toEqual([
      'left-out',
      'N1 Novice 09:00-09:20',
      'I1 Inters 09:20-09:40',
      'pause 09:40-10:00',
      'O1 Open pit lane 10:00-12:00',
      'lunch 12:00-13:00',
      'N2 Novice 13:00-13:20',
      'I2 Inters 13:20-13:40',
      'curfew 17:00',
    ]);
    expect(preview.timetable?.slots[0]?.isSighting).toBe(true);
    expect(preview.timetable?.slots.map(({ isOpenPitLane }) => isOpenPitLane === true)).toEqual([
      false,
      false,
      true,
      false,
      false,
    ]);
    expect(preview.timetable?.curfews).toEqual([at('17:00')]);
  });

  it('PL204: what is filled in is said: an end from the next line, a usual length, an hour after noon', () => {
    const { lines } = read('9:00 Novice\n9:20 Inters\n9:40 Novice\n1:30 Novice');
    expect(lines.map((line) => 'guesses' in line && line.guesses)).toEqual([
      ['It ends where the next line starts.'],
      ['It ends where the next line starts.'],
      ['It is taken to be as long as most others, 20 min.'],
      ['It is read as after noon.', 'It is taken to be as long as most others, 20 min.'],
    ]);
    expect(inShort(lines[3]!)).toBe('N3 Novice 13:30-13:50');
  });

  it.each([
    ['9:00 - 9:20', '09:00-09:20'],
    ['09.00–09.20', '09:00-09:20'],
    ['9h00 à 9h20', '09:00-09:20'],
    ['9 h - 10 h', '09:00-10:00'],
    ['9 am - 9.20 am', '09:00-09:20'],
    ['9:00-9:20 a.m.', '09:00-09:20'],
    ['12:50 – 1:10 pm', '12:50-13:10'],
    ['1:00-1:20 pm', '13:00-13:20'],
    ['9 Uhr bis 9.20 Uhr', '09:00-09:20'],
    ['dalle 9:00 alle 9:20', '09:00-09:20'],
    ['0900-0920', '09:00-09:20'],
    ['09:00:00 09:20:00', '09:00-09:20'],
    ["9:00 20'", '09:00-09:20'],
    ['9:00 (20 Minuten)', '09:00-09:20'],
  ])('PL205: “%s” is %s', (times, expected) => {
    expect(short(`N1 Novice ${times}`)).toEqual([`N1 Novice ${expected}`]);
  });

  it.each([
    ['English', 'Group\tStart\tEnd\tNotes\nNovice\t9:00\t9:20\tsighting laps'],
    ['German', 'Gruppe;Beginn;Dauer;Bemerkung\nNovice;9.00 Uhr;20 Min.;Einführungsrunden'],
    ['French', 'Groupe;Début;Durée;Remarques\nNovice;9h00;20;tours de reconnaissance'],
    ['Italian', 'Gruppo,Dalle,Alle,Note\nNovice,"9:00","9:20",giri di ricognizione'],
    ['Spanish', 'Fin;Inicio;Grupo;Observaciones\n9:20;9:00;Novice;vueltas de reconocimiento'],
    ['a spreadsheet’s fractions of a day', 'Class,From,To,What\nNovice,0.375,0.388888888888889,sighting'],
    ['a name of a column nobody knows', 'Wer;Beginn;Ende;Bemerkung\nNovice;9:00;9:20;Einführung'],
    ['no names of columns', 'Novice\t9:00\t9:20\tsighting laps'],
    ['none, and a spreadsheet’s fractions', 'Novice\t0.375\t0.388888888888889\tsighting'],
    ['a range in one column', 'Time\tGroup\tNotes\n9:00-9:20\tNovice\tsighting'],
    ['columns set with spaces', 'Group     Start    End     Notes\nNovice    9:00     9:20    sighting'],
  ])('PL206: columns are known by their names: %s', (_, text) => {
    const { timetable } = read(text);
    expect(timetable?.slots).toEqual([
      { name: 'N1', group: 'N', start: at('09:00'), end: at('09:20'), isSighting: true },
    ]);
    expect(timetable?.groups).toEqual([{ key: 'N', name: 'Novice' }]);
  });

  it('PL207: several days, by date in figures or words, by weekday, by column; what is no day of the meeting is said', () => {
    expect(short('Saturday 19 September\nNovice 9:00-9:20\nSunday\nNovice 9:00-9:20')).toEqual([
      DATE,
      'N1 Novice 09:00-09:20',
      '2026-09-20',
      'N1 Novice 09:00-09:20',
    ]);
    for (const day of [
      '20.09.2026',
      '20/9/2026',
      '20. September',
      '20 septembre 2026',
      '20 de septiembre',
      '2026-09-20',
      'Day 2',
      'domenica',
    ])
      expect(read(`${day}\nNovice 9:00-9:20`).timetable?.slots[0]?.start, day).toBe(at('09:00', '2026-09-20'));
    const column = read('Date,Group,Start,End\n46284,Novice,9:00,9:20\n2026-09-20,Novice,9:00,9:20').timetable?.slots;
    // 46284 days after 30 December 1899, the day a spreadsheet counts from (ECMA-376 part 1, 18.17.4.1), is 2026-09-19.
    expect(column?.map(({ start }) => start)).toEqual([at('09:00'), at('09:00', '2026-09-20')]);
    expect(read('26 September\nNovice 9:00-9:20').troubles).toEqual([
      '2026-09-26 is no day of this meeting, which is 2026-09-19, 2026-09-20.',
    ]);
  });

  it('PL208: a group stands over its lines, or over its column', () => {
    expect(short('Novice\n9:00-9:20\n10:00-10:20\n\nFast\n9:20-9:40')).toEqual([
      'over: Novice',
      'N1 Novice 09:00-09:20',
      'N2 Novice 10:00-10:20',
      'over: Fast',
      'F1 Fast 09:20-09:40',
    ]);
    expect(short('Round\tNovice\tInters\n1\t9:00-9:20\t9:20-9:40\n2\t10:00-10:20\t10:20-10:40').slice(1)).toEqual([
      'N1 Novice 09:00-09:20',
      'I1 Inters 09:20-09:40',
      'N2 Novice 10:00-10:20',
      'I2 Inters 10:20-10:40',
    ]);
  });

  it('PL209: groups keep apart what is apart, and the same group written twice is one', () => {
    const text =
      'Novice A session 1 9:00-9:10\nNovice B session 1 9:10-9:20\nNovices A 9:20-9:30\nTwins 600 practice 9:30-9:40\nTwins 300 practice 9:40-9:50\nGroup 2 10:00-10:10';
    const { timetable } = read(text);
    expect(timetable?.groups.map(({ name }) => name)).toEqual([
      'Novice A',
      'Novice B',
      'Twins 600',
      'Twins 300',
      'Group 2',
    ]);
    const same = read('Novice 9:00-9:10\nnovices 9:10-9:20\nN3 9:20-9:30\nNOVICE 4 9:30-9:40').timetable;
    expect(same?.groups).toHaveLength(1);
    expect(same?.slots.map(({ name }) => name)).toEqual(['N1', 'N2', 'N3', 'N4']);
  });

  it('PL223: sessions that overlap or run into lunch are said, and still shown', () => {
    expect(read('N1 9:00-9:20\nI1 9:15-9:35\nN2 12:50-13:10\nLunch 13:00-14:00').troubles).toEqual([
      'I1 starts at 09:15, before N1 ends at 09:20.',
      'N2 runs into lunch, 13:00 to 14:00.',
    ]);
  });

  it('PL224: groups named before keep their keys', () => {
    const groups = [{ key: 'Q', name: 'Quick' }];
    expect(read('Quick 9:00-9:20', { groups }).timetable?.slots[0]).toMatchObject({ name: 'Q1', group: 'Q' });
  });

  it('PL225: a timetable written as lines reads back to the same', () => {
    const text =
      'N1 Novice sighting 09:00-09:20\nI1 Inters 09:20-09:40\nO1 open pit lane 10:00-12:00\nLunch 12:00-13:00\nN2 Novice 13:00-13:20\nCurfew 17:30';
    const { timetable } = read(text);
    expect(timetableText(timetable as Timetable, DATE)).toBe(text);
    expect(read(timetableText(timetable as Timetable, DATE)).timetable).toEqual(timetable);
  });

  it('PL226: a session may go past midnight, and what follows it in the small hours is the next day’s', () => {
    const { timetable, lines } = read(
      'N1 Novice 23:20-23:40\nF1 Fast 23:50-00:10\nN2 Novice 00:10-00:30\nF2 Fast 1:00-1:20',
    );
    const next = (clock: string) => at(clock, '2026-09-20');
    expect(timetable?.slots.map(({ name, start, end }) => [name, start, end])).toEqual([
      ['N1', at('23:20'), at('23:40')],
      ['F1', at('23:50'), next('00:10')],
      ['N2', next('00:10'), next('00:30')],
      ['F2', next('01:00'), next('01:20')],
    ]);
    expect(lines.map((line) => 'guesses' in line && line.guesses)).toEqual([
      [],
      [],
      ['It is read as after midnight.'],
      ['It is read as after midnight.'],
    ]);
    expect(short('Novice 11:40 pm - midnight\nFast 11:50 pm - 12:10 am')).toEqual([
      'N1 Novice 23:40-00:00',
      'F1 Fast 23:50-00:10',
    ]);
    // In the morning it is a slip of the pen, and is not mended by a guess.
    expect(short('Novice 9:50-0:10')).toEqual(['not-understood']);
    expect(short('Novice 00:10-00:30\nNovice 9:00-9:20')).toEqual(['N1 Novice 00:10-00:30', 'N2 Novice 09:00-09:20']);
  });

  it.each([
    ['Lunch 12-1', '12:00-13:00'],
    ['Mittag 12 bis 13', '12:00-13:00'],
    ['Lunch 12:30–1', '12:30-13:00'],
    ['Pranzo 12-13.30', '12:00-13:30'],
    ['Lunch noon to 1:00', '12:00-13:00'],
  ])('PL227: “%s” is %s', (line, expected) => {
    expect(short(line)).toEqual([`lunch ${expected}`]);
  });

  it('PL227: noon in words is a time and no name of a group; two figures elsewhere are no hours', () => {
    expect(short('Start,End,Group\nnoon,12:20,Novice\n12:20,12:40,Afternoon')).toEqual([
      'columns',
      'N1 Novice 12:00-12:20',
      'A1 Afternoon 12:20-12:40',
    ]);
    expect(short('noon,12:20,Novice\n12:20,12:40,Fast')).toEqual(['N1 Novice 12:00-12:20', 'F1 Fast 12:20-12:40']);
    expect(short('mezzogiorno - 12:20 Novice')).toEqual(['N1 Novice 12:00-12:20']);
    expect(read('Round 1-2').lines[0]?.kind).not.toBe('session');
  });

  it('PL228: groups of one letter stand under names of columns or over columns of times, and Ä is no A', () => {
    const groups = (text: string) => read(text).timetable?.groups.map(({ key, name }) => `${key} ${name}`);
    expect(short('Zeit;Gruppe\n9:00-9:20;A\n9:20-9:40;N\n9:40-10:00;Ä\n10:00-10:20;Ö')).toEqual([
      'columns',
      'A1 A 09:00-09:20',
      'N1 N 09:20-09:40',
      'Ä1 Ä 09:40-10:00',
      'Ö1 Ö 10:00-10:20',
    ]);
    expect(groups('Zeit;A;N;B\n1;9:00-9:20;9:20-9:40;9:40-10:00')).toEqual(['A A', 'N N', 'B B']);
    expect(groups('N;Da;A;Gruppo\n1;9:00;9:20;Novice')).toEqual(['N Novice']);
    expect(groups('Anfänger 9:00-9:20\nAnfanger 9:20-9:40')).toHaveLength(1);
  });
});

/**
 * Clock changes, by the IANA time zone database (2025c): the days named below are those of `europe`, `australasia` and
 * `northamerica` in it. Temporal is read through temporal-polyfill, for Node 20 has none.
 */
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { epochOfWall, wallOccurrence, wallOfEpoch } from '../../numeric/wallTime.js';
import { epochMsOf, wallMsOf } from '../../units.js';
import { readTimetable, rowsOfText } from './index.js';
import { realMinutes } from './troubles.js';

const wall = (text: string) => wallMsOf(Date.parse(`${text}Z`));
const instant = (text: string, zone: string) => new Date(epochOfWall(wall(text), zone)).toISOString();
const LONDON = 'Europe/London';

describe('hours that the clocks skip or repeat', () => {
  it('PL230: London, 29 March 2026: 01:30 does not exist; it is read as 02:30 of summer time', () => {
    expect(wallOccurrence(wall('2026-03-29T01:30:00'), LONDON)).toBe('never');
    expect(instant('2026-03-29T01:30:00', LONDON)).toBe('2026-03-29T01:30:00.000Z');
    expect(wallOfEpoch(epochOfWall(wall('2026-03-29T01:30:00'), LONDON), LONDON)).toBe(wall('2026-03-29T02:30:00'));
    const plain = Temporal.PlainDateTime.from('2026-03-29T01:30');
    expect(plain.toZonedDateTime(LONDON, { disambiguation: 'later' }).toString()).toContain('02:30:00+01:00');
    expect(plain.toZonedDateTime(LONDON, { disambiguation: 'earlier' }).toInstant().toString()).toBe(
      '2026-03-29T00:30:00Z',
    );
    expect(() => plain.toZonedDateTime(LONDON, { disambiguation: 'reject' })).toThrow(RangeError);
  });

  it('PL231: London, 25 October 2026: 01:30 comes twice; the first is meant', () => {
    expect(wallOccurrence(wall('2026-10-25T01:30:00'), LONDON)).toBe('twice');
    expect(instant('2026-10-25T01:30:00', LONDON)).toBe('2026-10-25T00:30:00.000Z');
    const later = Temporal.PlainDateTime.from('2026-10-25T01:30').toZonedDateTime(LONDON, { disambiguation: 'later' });
    expect(later.toInstant().toString()).toBe('2026-10-25T01:30:00Z');
    expect(later.offset).toBe('+00:00');
  });

  it.each([
    [LONDON, '2026-03-29', 23],
    [LONDON, '2026-10-25', 25],
    [LONDON, '2026-10-24', 24],
    ['Australia/Lord_Howe', '2026-04-05', 24.5],
  ])('PL232: in %s the day %s has %d hours', (zone, day, hours) => {
    const next = new Date(Date.parse(day) + 86_400_000).toISOString().slice(0, 10);
    expect(Temporal.PlainDate.from(day).toZonedDateTime(zone).hoursInDay).toBe(hours);
    expect(realMinutes({ start: wall(`${day}T00:00:00`), end: wall(`${next}T00:00:00`) }, zone) / 60).toBe(hours);
  });

  it('PL233: Apia left 30 December 2011 out, and Melbourne is eleven hours ahead on 25 October 2026', () => {
    expect(wallOccurrence(wall('2011-12-30T12:00:00'), 'Pacific/Apia')).toBe('never');
    expect(wallOccurrence(wall('2011-12-31T12:00:00'), 'Pacific/Apia')).toBe('once');
    expect(instant('2026-10-25T12:00:00', 'Australia/Melbourne')).toBe('2026-10-25T01:00:00.000Z');
  });

  it('PL234: a time with its offset is one instant, to the hundredth', () => {
    const recorded = Temporal.Instant.from('2026-05-30T14:23:07.45+02:00');
    expect(recorded.toString()).toBe('2026-05-30T12:23:07.45Z');
    expect(wallOfEpoch(epochMsOf(recorded.epochMilliseconds), 'Europe/Paris')).toBe(wall('2026-05-30T14:23:07.450'));
  });
});

describe('a timetable over a change of the clocks', () => {
  const read = (text: string, date: string, zone = LONDON) =>
    readTimetable(rowsOfText(text), { date, days: [date], slipRule: 'sliding', zone });

  it('PL235: a session over it is said to last what it really lasts, and hours that do not exist are named', () => {
    expect(read('Night 00:30-03:00', '2026-03-29').troubles).toEqual([
      'N1 lasts 90 min, though the clock says 150: it changes meanwhile.',
    ]);
    expect(read('Night 00:30-03:00', '2026-10-25').troubles).toEqual([
      'N1 lasts 210 min, though the clock says 150: it changes meanwhile.',
    ]);
    expect(read('Night 01:30-01:50', '2026-03-29').troubles).toEqual([
      'N1: 01:30 on 2026-03-29 does not exist: the clocks go forward over it.',
      'N1: 01:50 on 2026-03-29 does not exist: the clocks go forward over it.',
    ]);
    expect(read('Night 01:30-01:50', '2026-10-25').troubles[0]).toContain('comes twice');
  });

  it('PL236: it is the meeting’s zone that counts', () => {
    expect(read('Night 00:30-03:00', '2026-03-29', 'Australia/Melbourne').troubles).toEqual([]);
    expect(read('Novice 09:00-09:20', '2026-03-29').troubles).toEqual([]);
  });
});

import fc from 'fast-check';
import ICAL from 'ical.js';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { runSheet } from '../../../core/plan/sheet/runSheet.js';
import { DAY, handMadeDay, STANDS, stand } from '../../../core/plan/sheet/testing/handMadeDay.js';
import type { SheetInput } from '../../../core/plan/sheet/types.js';
import { type EpochMs, epochMsOf, wallMsOf } from '../../../core/units.js';
import { contentLine, escapedText, unfolded } from './lines.js';
import { runSheetCalendar } from './runSheetCalendar.js';
import { timeZoneLines } from './timeZone.js';

const MADE_AT = epochMsOf(Date.UTC(2031, 4, 16, 20));
const calendarOf = (more: Partial<SheetInput> = {}, before?: string, madeAt: EpochMs = MADE_AT): string =>
  runSheetCalendar(runSheet(handMadeDay(more)), {
    meetingId: 'a1b2',
    madeAt,
    photographer: 0,
    ...(before === undefined ? {} : { before }),
  });

/** As another parser, ical.js 2.2, reads it. */
const read = (text: string) => {
  const calendar = new ICAL.Component(ICAL.parse(text));
  return calendar.getAllSubcomponents('vevent').map((component) => {
    const event = new ICAL.Event(component);
    const alarm = component.getFirstSubcomponent('valarm');
    return {
      uid: event.uid,
      start: event.startDate.toString(),
      end: event.endDate.toString(),
      zone: String(component.getFirstProperty('dtstart')!.getParameter('tzid')),
      startsAt: event.startDate.toJSDate().toISOString(),
      summary: event.summary,
      description: event.description,
      sequence: event.sequence,
      status: component.getFirstPropertyValue('status'),
      trigger: alarm === null ? null : String(alarm.getFirstPropertyValue('trigger')),
    };
  });
};

describe('the calendar', () => {
  it('PL620: is read back by another parser as it was meant', () => {
    const events = read(calendarOf());
    expect(events.map(({ start, end, summary }) => `${start.slice(11, 16)}–${end.slice(11, 16)} ${summary}`)).toEqual([
      '07:30–08:00 Sign-on',
      '08:20–08:47 Media briefing',
      '08:55–09:58 1 Beacon: N1, I1 and F1',
      '10:04–11:00 2 Gannet: N2, I2 and F2',
      '11:07–11:58 5 Slipway: N3, I3 and F3',
      '12:04–13:00 3 Lifeboat: N4, I4 and F4',
      '13:00–13:47 Lunch at the van',
      '13:55–14:47 4 Strand: N5, I5 and F5',
      '14:54–15:47 2 Gannet: N6, I6 and F6',
      '15:53–17:00 6 Coble: F6, N7, I7 and F7',
    ]);
    expect(events[7]).toMatchObject({ zone: 'Europe/London', startsAt: '2031-05-17T12:55:00.000Z', trigger: '-PT8M' });
    expect(events[8]!.description).toBe(
      'front, 200 mm, apex, sure 1/320, slow 1/125\nFast 1/500\nF6 until 15:47\ndrive 7 min by the tunnel, out of F5',
    );
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
  });

  it('PL620: lines have at most 75 octets and end with CRLF, whatever stands in them', () => {
    const meeting = 'Ropewalk, “Řehoř”; a\\b\nłódź '.repeat(6);
    const text = calendarOf({ meeting, circuit: undefined as never });
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    expect(
      new ICAL.Component(ICAL.parse(text)).getFirstSubcomponent('vevent')!.getFirstPropertyValue('dtstamp')!.toString(),
    ).toBe('2031-05-16T20:00:00Z');
  });

  it('PL620: any text comes back from folding and escaping', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (words) => {
        const line = contentLine('SUMMARY', escapedText(words));
        for (const part of line.split('\r\n')) {
          expect(Buffer.byteLength(part)).toBeLessThanOrEqual(75);
          expect(Buffer.from(part).toString()).toBe(part);
        }
        const parsed = ICAL.Property.fromString(unfolded(line)[0]!);
        expect(parsed.getFirstValue()).toBe(words.replace(/\r\n?/g, '\n').replace(/[^\P{Cc}\n\t]/gu, ''));
      }),
    );
  });

  it('PL621: an empty day is still a calendar', () => {
    const text = calendarOf({ source: { kind: 'stands', stands: [] }, times: {} });
    expect(read(text)).toEqual([]);
    expect(text).toMatch(/BEGIN:VTIMEZONE/);
  });

  it('PL622: an event that moves keeps its UID and has a higher sequence', () => {
    const before = read(calendarOf());
    const later = STANDS.map((one) => ({
      ...one,
      from: wallMsOf(one.from + 7 * 60_000),
      to: wallMsOf(one.to + 7 * 60_000),
    }));
    const moved = calendarOf({ source: { kind: 'stands', stands: later } }, calendarOf(), epochMsOf(MADE_AT + 60_000));
    const after = read(moved);
    expect(after.map(({ uid }) => uid)).toEqual(before.map(({ uid }) => uid));
    expect(after.find(({ summary }) => summary.startsWith('1 '))!.start).toBe('2031-05-17T09:02:00');
    for (const [i, event] of after.entries()) expect(event.sequence).toBeGreaterThan(before[i]!.sequence);
  });

  it('PL622: what fell out of the plan is cancelled under its UID, and nothing else in the file is', () => {
    const old = calendarOf();
    const foreign = ['BEGIN:VEVENT', 'UID:somebody-else', 'SUMMARY:dentist', 'END:VEVENT', 'END:VCALENDAR'].join(
      '\r\n',
    );
    const fewer = { source: { kind: 'stands', stands: STANDS.slice(0, 6) } } as const;
    const text = calendarOf(fewer, old.replace('END:VCALENDAR', foreign), epochMsOf(MADE_AT + 60_000));
    const gone = read(text).filter(({ status }) => status === 'CANCELLED');
    expect(gone.map(({ summary }) => summary)).toEqual(['6 Coble: F6, N7, I7 and F7']);
    expect(gone[0]!.uid).toBe(read(old).at(-1)!.uid);
    // Planned again, it stands again.
    const again = read(calendarOf({}, text, epochMsOf(MADE_AT + 120_000)));
    expect(again.filter(({ status }) => status === 'CANCELLED')).toEqual([]);
  });

  it('PL621: on the day the clocks go forward every stay has its instant', () => {
    const day = wallMsOf(Date.UTC(2031, 2, 30));
    const move = (wall: number) => wallMsOf(wall - DAY + day);
    const stands = [stand(1, '00:20', '00:50'), stand(2, '02:30', '03:00'), stand(3, '09:00', '10:00')];
    const text = calendarOf({
      day,
      slots: [],
      times: {},
      source: { kind: 'stands', stands: stands.map((one) => ({ ...one, from: move(one.from), to: move(one.to) })) },
    });
    // 30 March 2031 is the last Sunday of March: The Summer Time Order 2002 puts the clocks forward at 01:00 GMT.
    expect(read(text).map(({ startsAt }) => startsAt)).toEqual([
      '2031-03-30T00:20:00.000Z',
      '2031-03-30T01:30:00.000Z',
      '2031-03-30T08:00:00.000Z',
    ]);
  });

  it('PL621: in the hour that comes twice the first is meant, in UTC, for readers do not agree on it', () => {
    const day = wallMsOf(Date.UTC(2031, 9, 26));
    const move = (wall: number) => wallMsOf(wall - DAY + day);
    const night = stand(1, '01:30', '02:30');
    const stands = [{ ...night, from: move(night.from), to: move(night.to) }];
    const text = calendarOf({ day, slots: [], times: {}, source: { kind: 'stands', stands } });
    expect(text).toContain('\r\nDTSTART:20311026T003000Z\r\nDTEND;TZID=Europe/London:20311026T023000\r\n');
  });
});

describe('a zone in the calendar', () => {
  const ZONES = [
    'Europe/London',
    'Europe/Dublin',
    'America/Santiago',
    'America/Phoenix',
    'Australia/Lord_Howe',
    'Asia/Kathmandu',
    'Africa/Casablanca',
    'UTC',
  ];

  /** ical.js reckons from our VTIMEZONE, Temporal from the IANA database. */
  const instantByParser = (zone: string, wall: number): number => {
    const lines = [
      'BEGIN:VCALENDAR',
      ...timeZoneLines(zone, wallMsOf(wall), wallMsOf(wall + 3_600_000)),
      'END:VCALENDAR',
    ];
    const component = new ICAL.Component(ICAL.parse(lines.join('\r\n'))).getFirstSubcomponent('vtimezone')!;
    const text = new Date(wall).toISOString().slice(0, 19);
    const time = ICAL.Time.fromDateTimeString(text);
    time.zone = new ICAL.Timezone(component);
    return time.toUnixTime() * 1000;
  };
  const plainOf = (wall: number) => Temporal.PlainDateTime.from(new Date(wall).toISOString().slice(0, 19));

  it('PL621: gives every time of the day the instant that the IANA database gives it', () => {
    const minutes = fc.integer({ min: Date.UTC(2024, 0, 1) / 60_000, max: Date.UTC(2036, 0, 1) / 60_000 });
    fc.assert(
      fc.property(fc.constantFrom(...ZONES), minutes, (zone, minute) => {
        const plain = plainOf(minute * 60_000);
        const once = plain.toZonedDateTime(zone, { disambiguation: 'earlier' });
        // Skipped and doubled times are told apart below.
        fc.pre(once.equals(plain.toZonedDateTime(zone, { disambiguation: 'later' })));
        expect(instantByParser(zone, minute * 60_000)).toBe(once.epochMilliseconds);
      }),
      { numRuns: 300 },
    );
  });

  it('PL621: says a change with the offset before it and the one after', () => {
    const lines = timeZoneLines('Europe/London', wallMsOf(Date.UTC(2031, 9, 26)), wallMsOf(Date.UTC(2031, 9, 26, 9)));
    expect(lines.slice(lines.indexOf('DTSTART:20311026T020000') - 1).slice(0, 5)).toEqual([
      'BEGIN:STANDARD',
      'DTSTART:20311026T020000',
      'TZOFFSETFROM:+0100',
      'TZOFFSETTO:+0000',
      'TZNAME:GMT',
    ]);
  });

  it('PL621: summer time is DAYLIGHT, from its beginning in March (tzdata, London: last Sundays of March and October)', () => {
    const lines = timeZoneLines('Europe/London', DAY, DAY);
    expect(lines).toEqual([
      'BEGIN:VTIMEZONE',
      'TZID:Europe/London',
      'BEGIN:DAYLIGHT',
      'DTSTART:20310330T010000',
      'TZOFFSETFROM:+0000',
      'TZOFFSETTO:+0100',
      'TZNAME:BST',
      'END:DAYLIGHT',
      'BEGIN:STANDARD',
      'DTSTART:20311026T020000',
      'TZOFFSETFROM:+0100',
      'TZOFFSETTO:+0000',
      'TZNAME:GMT',
      'END:STANDARD',
      'END:VTIMEZONE',
    ]);
  });

  it('PL620: no event ends when it begins (RFC 5545, 3.8.2.2)', () => {
    const stands = [stand(1, '09:00', '10:00'), stand(2, '10:01', '10:05'), stand(3, '11:00', '11:00')];
    for (const text of [calendarOf(), calendarOf({ source: { kind: 'stands', stands } })]) {
      const events = unfolded(text).join('\n').split('BEGIN:VEVENT').slice(1);
      expect(events.length).toBeGreaterThan(3);
      for (const event of events) {
        const [start, end] = ['DTSTART', 'DTEND'].map((name) => new RegExp(`^${name}.*:(.*)$`, 'm').exec(event)?.[1]);
        expect(start).toBeDefined();
        if (end !== undefined) expect(end > start!).toBe(true);
      }
    }
  });

  it('PL621: a zone whose clocks never change has one offset', () => {
    expect(timeZoneLines('UTC', DAY, DAY).filter((line) => line.startsWith('BEGIN:'))).toEqual([
      'BEGIN:VTIMEZONE',
      'BEGIN:STANDARD',
    ]);
  });
});

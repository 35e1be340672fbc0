/** The run sheet as a calendar (RFC 5545): stays with an alarm when to go, sign-on, briefing and lunch. */
import { epochOfWall, wallOccurrence } from '../../../core/numeric/wallTime.js';
import type { RunSheet, SheetRow, SheetStay } from '../../../core/plan/sheet/types.js';
import { listed, MINUTE_MS, shutterInWords, spotInWords } from '../../../core/plan/sheet/words.js';
import { type EpochMs, type WallMs, wallMsOf } from '../../../core/units.js';
import { cancelledEvents } from './cancelled.js';
import { contentLine, escapedText } from './lines.js';
import { timeZoneLines } from './timeZone.js';

export interface CalendarOptions {
  readonly meetingId: string;
  readonly madeAt: EpochMs;
  /** From 0. */
  readonly photographer: number;
  /** The calendar that was made before for the same day: what it holds and the plan no longer does is cancelled. */
  readonly before?: string;
}

interface CalendarEvent {
  readonly uid: string;
  readonly from: WallMs;
  readonly to: WallMs;
  readonly summary: string;
  readonly description: readonly string[];
  readonly location: string | null;
  /** Before it begins: time to go. */
  readonly alarm: { readonly minutes: number; readonly words: string } | null;
}

export function runSheetCalendar(sheet: RunSheet, options: CalendarOptions): string {
  const prefix = uidPrefix(sheet, options);
  const events = eventsOf(sheet, prefix);
  const times = [sheet.day, ...events.flatMap(({ from, to }) => [from, to])];
  const stamp = stampOf(options.madeAt);
  // Rises with every making, so that what is read in again replaces what was.
  const sequence = Math.floor(options.madeAt / MINUTE_MS);
  const revision = [`DTSTAMP:${stamp}Z`, `LAST-MODIFIED:${stamp}Z`, `SEQUENCE:${sequence}`];
  const cancelled = options.before === undefined ? [] : cancelledEvents(options.before, prefix, events, revision);
  return [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Tyrewall//Run sheet//EN',
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    ...timeZoneLines(sheet.zone, wallMsOf(Math.min(...times)), wallMsOf(Math.max(...times))),
    ...events.flatMap((event) => eventLines(event, sheet.zone, revision)),
    ...cancelled,
    'END:VCALENDAR',
    '',
  ].join('\r\n');
}

/** Of the meeting, its day and the photographer: no other calendar has such UIDs. */
const uidPrefix = ({ day }: RunSheet, { meetingId, photographer }: CalendarOptions): string =>
  `${meetingId}-${new Date(day).toISOString().slice(0, 10)}-${photographer + 1}-`;

function eventsOf(sheet: RunSheet, prefix: string): readonly CalendarEvent[] {
  const visits = new Map<string, number>();
  return sheet.rows.flatMap((row, i): readonly CalendarEvent[] => {
    if (row.kind === 'line') return lineEvent(sheet, row, i, prefix);
    if (row.kind !== 'stay') return [];
    const visit = (visits.get(row.spot.id) ?? 0) + 1;
    visits.set(row.spot.id, visit);
    // By spot and how often it was visited, not by time: that changes and the event stays the same.
    return [stayEvent(sheet, row, sheet.rows[i - 1], `${prefix}${safe(row.spot.id)}-${visit}@tyrewall`)];
  });
}

const safe = (id: string): string => id.replace(/[^\w.-]/g, '_');

function stayEvent(
  { circuit, meeting }: RunSheet,
  stay: SheetStay,
  before: SheetRow | undefined,
  uid: string,
): CalendarEvent {
  const shutters = [
    ...(stay.sure === null ? [] : [`sure ${shutterInWords(stay.sure)}`]),
    ...(stay.slow === null ? [] : [`slow ${shutterInWords(stay.slow)}`]),
  ];
  const way = before?.kind === 'way' ? before : null;
  return {
    uid,
    from: stay.from,
    to: stay.to,
    summary: [spotInWords(stay.spot), listed(stay.sessions.map(({ name }) => name))]
      .filter((word) => word !== '')
      .join(': '),
    description: [
      [stay.light, stay.lens, ...shutters].filter((word) => word !== null).join(', '),
      ...stay.notes,
      ...(way === null ? [] : [way.words]),
      ...stay.cautions,
    ].filter((line) => line !== ''),
    location: `${stay.spot.name}, ${circuit ?? meeting}`,
    alarm:
      way === null
        ? null
        : {
            minutes: Math.max(0, Math.round((stay.from - way.from) / MINUTE_MS)),
            words: `Go to ${spotInWords(stay.spot)}: ${way.words}`,
          },
  };
}

const LINES = { 'sign-on': 'Sign-on', briefing: 'Media briefing', lunch: 'Lunch at the van' } as const;
const LINE_MINUTES = 30;

/** Until something else is to be done, half an hour where that is later or not known. */
function lineEvent(
  sheet: RunSheet,
  row: SheetRow & { kind: 'line' },
  i: number,
  prefix: string,
): readonly CalendarEvent[] {
  if (row.at === null || !(row.is in LINES)) return [];
  const is = row.is as keyof typeof LINES;
  const next = sheet.rows.slice(i + 1).flatMap((one) => (one.kind === 'line' ? (one.at ?? []) : one.from));
  const most = row.is === 'lunch' ? Number.POSITIVE_INFINITY : row.at + LINE_MINUTES * MINUTE_MS;
  const to = Math.min(most, ...next.filter((at) => at > row.at!).slice(0, 1));
  return [
    {
      uid: `${prefix}${is}@tyrewall`,
      from: row.at,
      to: wallMsOf(Number.isFinite(to) ? to : row.at + LINE_MINUTES * MINUTE_MS),
      summary: LINES[is],
      description: [row.words],
      location: sheet.circuit ?? null,
      alarm: null,
    },
  ];
}

function eventLines(event: CalendarEvent, zone: string, revision: readonly string[]): readonly string[] {
  return [
    'BEGIN:VEVENT',
    contentLine('UID', escapedText(event.uid)),
    ...revision,
    timeLine('DTSTART', event.from, zone),
    // Later than the start, or left out (RFC 5545, 3.8.2.2 and 3.6.1); clocks that skip an hour may leave nothing between.
    ...(epochOfWall(event.to, zone) > epochOfWall(event.from, zone) ? [timeLine('DTEND', event.to, zone)] : []),
    contentLine('SUMMARY', escapedText(event.summary)),
    ...(event.location === null ? [] : [contentLine('LOCATION', escapedText(event.location))]),
    ...(event.description.length === 0 ? [] : [contentLine('DESCRIPTION', escapedText(event.description.join('\n')))]),
    'STATUS:CONFIRMED',
    ...(event.alarm === null
      ? []
      : [
          'BEGIN:VALARM',
          'ACTION:DISPLAY',
          `TRIGGER:-PT${event.alarm.minutes}M`,
          contentLine('DESCRIPTION', escapedText(event.alarm.words)),
          'END:VALARM',
        ]),
    'END:VEVENT',
  ];
}

/** In the hour that comes twice, or never, readers do not agree on what a local time means: there it is UTC. */
const timeLine = (name: string, wall: WallMs, zone: string): string =>
  wallOccurrence(wall, zone) === 'once'
    ? contentLine(`${name};TZID=${zone}`, stampOf(wall))
    : contentLine(name, `${stampOf(epochOfWall(wall, zone))}Z`);

/** `20310517T090000`; of a wall time as its clock reads, of an instant in UTC. */
const stampOf = (ms: number): string => new Date(ms).toISOString().slice(0, 19).replace(/[-:]/g, '');

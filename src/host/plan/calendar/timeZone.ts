/**
 * A zone as a VTIMEZONE (RFC 5545, 3.6.5): the changes of its clocks from the last before a span to the first after it, each
 * with its date, out of the IANA database. What governs nothing between the two is left out.
 */
import { Temporal } from 'temporal-polyfill';
import { epochOfWall } from '../../../core/numeric/wallTime.js';
import type { WallMs } from '../../../core/units.js';
import { contentLine, escapedText } from './lines.js';

export function timeZoneLines(zone: string, from: WallMs, to: WallMs): readonly string[] {
  const start = Temporal.Instant.fromEpochMilliseconds(epochOfWall(from, zone)).toZonedDateTimeISO(zone);
  const end = Temporal.Instant.fromEpochMilliseconds(epochOfWall(to, zone)).toZonedDateTimeISO(zone);
  const changes: Temporal.ZonedDateTime[] = [];
  let change = start.add({ nanoseconds: 1 }).getTimeZoneTransition('previous');
  while (change !== null) {
    changes.push(change);
    if (change.epochMilliseconds > end.epochMilliseconds) break;
    change = change.getTimeZoneTransition('next');
  }
  return [
    'BEGIN:VTIMEZONE',
    contentLine('TZID', zone),
    ...(changes.length === 0 ? unchanging(start) : changes.flatMap(observance)),
    'END:VTIMEZONE',
  ];
}

/** The time before a change counts by the clock as it was; that is how DTSTART is read. */
function observance(change: Temporal.ZonedDateTime): readonly string[] {
  const before = change.subtract({ nanoseconds: 1 });
  const onset = change.toInstant().toZonedDateTimeISO(before.offset).toPlainDateTime();
  return lines(change, before.offset, stampOf(onset));
}

const unchanging = (at: Temporal.ZonedDateTime): readonly string[] => lines(at, at.offset, '19700101T000000');

function lines(at: Temporal.ZonedDateTime, offsetFrom: string, onset: string): readonly string[] {
  const kind = isDaylight(at) ? 'DAYLIGHT' : 'STANDARD';
  return [
    `BEGIN:${kind}`,
    `DTSTART:${onset}`,
    `TZOFFSETFROM:${offsetFrom.replaceAll(':', '')}`,
    `TZOFFSETTO:${at.offset.replaceAll(':', '')}`,
    contentLine('TZNAME', escapedText(nameOf(at))),
    `END:${kind}`,
  ];
}

/**
 * Ahead of what the zone's clocks show at some time of the year to come. Half a year on is not enough: in Europe summer time
 * lasts seven months. Where a zone goes ahead for good, that is its standard time.
 */
function isDaylight(at: Temporal.ZonedDateTime): boolean {
  const toCome = Array.from({ length: 11 }, (_, i) => at.add({ months: i + 1 }));
  return toCome.some(({ offsetNanoseconds }) => offsetNanoseconds < at.offsetNanoseconds);
}

const nameOf = (at: Temporal.ZonedDateTime): string =>
  new Intl.DateTimeFormat('en-GB', { timeZone: at.timeZoneId, timeZoneName: 'short' })
    .formatToParts(at.epochMilliseconds)
    .find(({ type }) => type === 'timeZoneName')?.value ?? at.offset;

const stampOf = (time: Temporal.PlainDateTime): string =>
  time.toString({ smallestUnit: 'second' }).replace(/[-:]/g, '');

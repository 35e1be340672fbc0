/**
 * Times as cameras write them, read as a clock on a wall, and put into a zone.
 *
 * Sources: Exif 2.32 (CIPA DC-008-2019), tags 0x9003 and 0x9291: `YYYY:MM:DD HH:MM:SS` in 24-hour time, unknown parts
 * as spaces; SubSecTime is a decimal fraction of a second as text ("45" is 0.45 s, "045" is 0.045 s). Zones are those
 * of the IANA database through Temporal, "compatible" disambiguation (RFC 5545): a time the clocks jumped over is
 * read with the offset before the jump, a time that comes twice is the first of the two.
 */
import { Temporal } from 'temporal-polyfill';
import type { EpochMs, WallMs } from '../units.js';

export type WallTime =
  | { readonly kind: 'wall'; readonly wall: WallMs }
  | { readonly kind: 'absent'; readonly reason: 'no-capture-time' | 'impossible-date' };

/** Some writers put `-`, `/` or `.` between the parts of the date and `T` before the time. */
const RECORDED = /^(\d{4})[:\-/.](\d{2})[:\-/.](\d{2})[ T](\d{2}):(\d{2}):(\d{2})/;
/** No camera recorded before this; a clock that was never set says year 0. */
const EARLIEST_YEAR = 1900;
const MINUTE_MS = 60_000;

/** `text` as recorded, and `subSec` as its decimal fraction. */
export const parseWallTime = (text: string, subSec?: string): WallTime => {
  if (!/\d/.test(text)) return { kind: 'absent', reason: 'no-capture-time' };
  const parts = RECORDED.exec(text.trim())?.slice(1).map(Number);
  if (parts === undefined) return { kind: 'absent', reason: 'impossible-date' };
  const [year, month, day, hour, minute, second] = parts as [number, number, number, number, number, number];
  const wall = Date.UTC(year, month - 1, day, hour, minute, second);
  const isReal = year >= EARLIEST_YEAR && isSameTime(new Date(wall), parts);
  if (!isReal) return { kind: 'absent', reason: 'impossible-date' };
  return { kind: 'wall', wall: (wall + subSecondMs(subSec)) as WallMs };
};

/** Date.UTC carries 31 February into March and 25:00 into the next day; a real time comes back as it went in. */
const isSameTime = (date: Date, parts: readonly number[]): boolean =>
  date.getUTCFullYear() === parts[0] &&
  date.getUTCMonth() + 1 === parts[1] &&
  date.getUTCDate() === parts[2] &&
  date.getUTCHours() === parts[3] &&
  date.getUTCMinutes() === parts[4] &&
  date.getUTCSeconds() === parts[5];

/** Milliseconds of a decimal fraction as text, to the microsecond; nothing, or anything but digits, is 0. */
export const subSecondMs = (subSec: string | undefined): number =>
  subSec !== undefined && /^\d+$/.test(subSec) ? Number(`${subSec.padEnd(6, '0').slice(0, 6)}`) / 1000 : 0;

/** `+02:00`, `-07:00` or `Z` in minutes east of Greenwich; null where it is none. */
export const parseOffsetMinutes = (offset: string): number | null => {
  if (offset.trim() === 'Z') return 0;
  const match = /^([+-])(\d{2}):?(\d{2})$/.exec(offset.trim());
  if (match === null) return null;
  const minutes = Number(match[2]) * 60 + Number(match[3]);
  return minutes > 14 * 60 ? null : match[1] === '-' ? -minutes : minutes;
};

/** Wall minute of a zone → what to take off to come to UTC. A day has 1,440, so a season of frames fits easily. */
const offsetsByZone = new Map<string, Map<number, number>>();
const MOST_CACHED_MINUTES = 200_000;

/**
 * The instant at which a clock in `zone` shows `wall`. Throws RangeError for a zone that the IANA database lacks.
 * Offsets change on whole minutes since 1972, so one conversion serves a whole minute of frames.
 */
export const epochOfWall = (wall: WallMs, zone: string): EpochMs => {
  const minute = Math.floor(wall / MINUTE_MS);
  let offsets = offsetsByZone.get(zone);
  if (offsets === undefined || offsets.size > MOST_CACHED_MINUTES) {
    offsets = new Map();
    offsetsByZone.set(zone, offsets);
  }
  let offset = offsets.get(minute);
  if (offset === undefined) {
    offset = offsetAt(minute * MINUTE_MS, zone);
    offsets.set(minute, offset);
  }
  return (wall - offset) as EpochMs;
};

const offsetAt = (wallMs: number, zone: string): number => {
  const zoned = Temporal.Instant.fromEpochMilliseconds(wallMs)
    .toZonedDateTimeISO('UTC')
    .toPlainDateTime()
    .toZonedDateTime(zone, { disambiguation: 'compatible' });
  return wallMs - zoned.epochMilliseconds;
};

/** What a clock in `zone` shows at an instant. */
export const wallOfEpoch = (epoch: EpochMs, zone: string): WallMs => {
  const zoned = Temporal.Instant.fromEpochMilliseconds(Math.floor(epoch)).toZonedDateTimeISO(zone);
  return (epoch + zoned.offsetNanoseconds / 1e6) as WallMs;
};

export type WallOccurrence = 'once' | 'twice' | 'never';

/** Whether the clocks of `zone` show `wall` once, twice (put back) or never (put forward). */
export const wallOccurrence = (wall: WallMs, zone: string): WallOccurrence => {
  const plain = Temporal.Instant.fromEpochMilliseconds(Math.floor(wall)).toZonedDateTimeISO('UTC').toPlainDateTime();
  const earlier = plain.toZonedDateTime(zone, { disambiguation: 'earlier' });
  const later = plain.toZonedDateTime(zone, { disambiguation: 'later' });
  if (earlier.epochMilliseconds === later.epochMilliseconds) return 'once';
  return later.toPlainDateTime().equals(plain) ? 'twice' : 'never';
};

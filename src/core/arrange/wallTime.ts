/**
 * Recorded text → wall milliseconds → instant. A wall reading is counted as if the wall stood in UTC; only the
 * instant knows the meeting's zone. In the hour that a zone skips the later reading is taken, in the hour it repeats
 * the earlier one (the "compatible" rule of RFC 5545 and Temporal).
 */
import { Temporal } from 'temporal-polyfill';
import type { RecordedTime } from '../measure/types.js';
import { type EpochMs, epochMsOf, type WallMs, wallMsOf } from '../units.js';
import { ArrangeError } from './ArrangeError.js';

const EXIF_TIME = /^(\d{4})[:-](\d\d)[:-](\d\d)[ T](\d\d):(\d\d):(\d\d)/;
/** Zones change their offset on a quarter of an hour at the finest, so one look-up serves the whole quarter. */
const QUARTER_MS = 15 * 60_000;

/** Milliseconds of `YYYY:MM:DD HH:MM:SS` and its decimal fraction; null when the text is not such a time. */
export function wallOfRecorded(time: RecordedTime): WallMs | null {
  const parts = EXIF_TIME.exec(time.text)?.slice(1).map(Number);
  if (parts === undefined) return null;
  const [year, month, day, hour, minute, second] = parts as [number, number, number, number, number, number];
  const whole = Date.UTC(year, month - 1, day, hour, minute, second);
  const isReal = new Date(whole).getUTCDate() === day && month >= 1 && month <= 12 && hour < 24 && minute < 60;
  if (!isReal || second > 60) return null;
  const fraction = time.subSec === undefined ? 0 : Number(`0.${time.subSec.replace(/\D/g, '')}0`);
  return wallMsOf(whole + Math.round(fraction * 1000));
}

/** A function from wall time to instant in one zone, remembering what it looked up. */
export function instantsIn(zone: string): (wall: WallMs) => EpochMs {
  const offsets = new Map<number, number>();
  return (wall) => {
    const quarter = Math.floor(wall / QUARTER_MS) * QUARTER_MS;
    let offset = offsets.get(quarter);
    if (offset === undefined) {
      offset = quarter - instantOf(quarter, zone);
      offsets.set(quarter, offset);
    }
    return epochMsOf(wall - offset);
  };
}

function instantOf(wall: number, zone: string): number {
  try {
    const reading = Temporal.Instant.fromEpochMilliseconds(wall).toZonedDateTimeISO('UTC').toPlainDateTime();
    return reading.toZonedDateTime(zone).epochMilliseconds;
  } catch (cause) {
    throw Object.assign(
      new ArrangeError('zone', 'an IANA time zone such as Europe/London', `"${zone}"`, 'Mend it in meeting.json.'),
      { cause },
    );
  }
}

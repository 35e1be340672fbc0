/** What a clock on the wall shows at the meeting, while the meeting lasts. */
import { Temporal } from 'temporal-polyfill';
import { type WallMs, wallMsOf } from '../../core/units.js';
import type { MeetingAbout } from '../meeting/types.js';

/** Null before the first and after the last day: then nothing is still to come. */
export function wallNowAt(about: Pick<MeetingAbout, 'zone' | 'firstDay' | 'lastDay'>, epochMs: number): WallMs | null {
  const there = Temporal.Instant.fromEpochMilliseconds(Math.floor(epochMs)).toZonedDateTimeISO(about.zone);
  const day = there.toPlainDate().toString();
  if (day < about.firstDay || day > about.lastDay) return null;
  return wallMsOf(there.toPlainDateTime().toZonedDateTime('UTC').epochMilliseconds);
}

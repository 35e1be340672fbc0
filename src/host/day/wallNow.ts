/** What a clock on the wall shows at the meeting, while the meeting lasts. */
import { Temporal } from 'temporal-polyfill';
import { type WallMs, wallMsOf } from '../../core/units.js';
import type { MeetingAbout } from '../meeting/types.js';

/** What clocks of that zone show, on whatever day. */
export const wallAt = (zone: string, epochMs: number): WallMs =>
  wallMsOf(
    Temporal.Instant.fromEpochMilliseconds(Math.floor(epochMs))
      .toZonedDateTimeISO(zone)
      .toPlainDateTime()
      .toZonedDateTime('UTC').epochMilliseconds,
  );

/** Null before the first and after the last day: then nothing is still to come. */
export function wallNowAt(about: Pick<MeetingAbout, 'zone' | 'firstDay' | 'lastDay'>, epochMs: number): WallMs | null {
  const wall = wallAt(about.zone, epochMs);
  const day = new Date(wall).toISOString().slice(0, 10);
  return day < about.firstDay || day > about.lastDay ? null : wall;
}

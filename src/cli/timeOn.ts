/** A time of day as typed, on a day of the meeting: 10:42, 9.05 or 13h30. */
import { type WallMs, wallMsOf } from '../core/units.js';
import { CliError } from './cliError.js';
import { onOneLine } from './words.js';

const MINUTE_MS = 60_000;

export function timeOn(day: string, text: string | undefined): WallMs {
  const match = /^(\d{1,2})[:.h](\d{2})$/.exec(text ?? '');
  if (match && Number(match[1]) < 24 && Number(match[2]) < 60)
    return wallMsOf(Date.parse(`${day}T00:00:00Z`) + (Number(match[1]) * 60 + Number(match[2])) * MINUTE_MS);
  throw new CliError(`Expected a time of day, as 10:42, but got ${onOneLine(text ?? 'nothing')}.`);
}

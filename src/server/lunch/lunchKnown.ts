/** What is known at lunch, made once of each state; the same record for who asks twice. */

import { lunchOf } from '../../core/plan/timetable/index.js';
import type { WallMs } from '../../core/units.js';
import { wallMsOf } from '../../core/units.js';
import { lunchOfDay } from '../../host/plan/lunch/lunchOfDay.js';
import type { LunchView } from '../../host/plan/lunch/types.js';
import { type SheetDay, sheetDayOf } from '../../host/plan/sheet/sheetOfDay.js';
import { rememberingAnswers } from '../planning/planKnown.js';
import type { Known } from '../views/known.js';
import { judgementsOf } from '../views/passes.js';
import { type MorningView, morningView } from './lunchView.js';

export interface LunchKnown {
  readonly day: SheetDay;
  readonly lunch: LunchView;
  readonly morning: MorningView;
}

export type LunchKnowing = (known: Known, date: string, now: WallMs) => LunchKnown;

export function createLunchKnowing(): LunchKnowing {
  const answering = rememberingAnswers();
  let last: { readonly of: Known; readonly date: string; readonly from: WallMs; readonly made: LunchKnown } | null =
    null;
  return (known, date, now) => {
    const day = sheetDayOf(known.state, { date, hasVehicle: false }, answering);
    const from = afternoonFrom(day, now);
    if (last?.of === known && last.date === date && last.from === from) return last.made;
    const lunch = lunchOfDay(day, known.state, from, judgementsOf(known));
    const made = { day, lunch, morning: morningView(known, lunch) };
    last = { of: known, date, from, made };
    return made;
  };
}

const MINUTE_MS = 60_000;
/** Cards of a day that is over, or looked at ahead of it, are told as they stood at lunch. */
const NOON_MS = 12 * 60 * MINUTE_MS;

/** On the day itself from this minute on; else from its lunch. */
function afternoonFrom({ day, slots, state: { timetable } }: SheetDay, now: WallMs): WallMs {
  const first = Math.min(...slots.map(({ start }) => start));
  const last = Math.max(...slots.map(({ end }) => end));
  if (now >= first && now <= last) return wallMsOf(Math.floor(now / MINUTE_MS) * MINUTE_MS);
  return lunchOf(slots, timetable?.pauses ?? [])?.start ?? wallMsOf(day + NOON_MS);
}

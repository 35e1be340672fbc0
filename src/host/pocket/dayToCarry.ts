/** One day of a meeting for the pocket, from all that was said and measured of it. */
import type { Rider } from '../../core/arrange/types.js';
import { epochOfWall } from '../../core/numeric/wallTime.js';
import { MOST_WATCHED, type PocketDay, pocketDayOf } from '../../core/plan/pocket/index.js';
import { wallMsOf } from '../../core/units.js';
import { morningOfDay } from '../plan/lunch/morningOfDay.js';
import { type SheetDay, type SheetWish, sheetOf } from '../plan/sheet/sheetOfDay.js';
import { ridersWatched, toGetAt, type WatchOfDay, watchAt } from './watchAt.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

export interface DayCarried {
  readonly day: PocketDay;
  /** What is missing of the run sheet it was made from, in sentences. */
  readonly warnings: readonly string[];
}

export function dayToCarry(known: SheetDay, wish: SheetWish): DayCarried {
  const { state, answers } = known;
  const sheet = sheetOf(known, wish);
  const watch = watchOf(known, wish);
  const day = pocketDayOf({
    sheet,
    eastMin: minutesEast(known),
    slipRule: state.timetable?.slipRule ?? 'clock-fixed',
    lightAt: (spot, at) => answers?.light.lightAt(spot, at) ?? null,
    watchAt: (stay) => watchAt(watch, stay),
    toGetAt: (stay) => toGetAt(watch, stay),
  });
  return { day, warnings: sheet.warnings };
}

const watchOf = (known: SheetDay, { printedAt }: SheetWish): WatchOfDay => ({
  state: known.state,
  morning: morningOfDay(known, printedAt),
});

/** At noon: clocks are changed at night. */
function minutesEast({ state, day }: SheetDay): number {
  const noon = wallMsOf(day + 12 * HOUR_MS);
  return Math.round((noon - epochOfWall(noon, state.about.zone)) / MINUTE_MS);
}

/** Riders who go along on some stay's watch: a tap names them by their minted id, so each needs one. */
export function ridersToMint(known: SheetDay, wish: SheetWish): readonly Rider[] {
  const stays = sheetOf(known, wish).rows.flatMap((row) => (row.kind === 'stay' ? [row] : []));
  const watch = watchOf(known, wish);
  const watched = stays.flatMap((stay) => ridersWatched(watch, stay, MOST_WATCHED));
  return [...new Set(watched)].filter(({ id }) => id === null);
}

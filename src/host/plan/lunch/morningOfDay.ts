/** The morning of a meeting's day, from its state: what the sheet at lunch, the run sheet and the plan anew all begin from. */

import { spotsInUse, standsOf } from '../../../core/cover/index.js';
import { morningOf } from '../../../core/cover/lunch/index.js';
import type { Morning } from '../../../core/cover/lunch/types.js';
import type { FoldedLog } from '../../../core/log/types.js';
import { plain } from '../../../core/plan/timetable/index.js';
import type { Group } from '../../../core/plan/types.js';
import type { WallMs } from '../../../core/units.js';
import { entriesOf } from '../../day/derive.js';
import { fastestLapOf } from '../sheet/fastestLap.js';
import type { SheetDay } from '../sheet/sheetOfDay.js';

/** `now` null: the day is over. */
export function morningOfDay(known: SheetDay, now: WallMs | null): Morning {
  const { arrangement, coverage, log, timetable } = known.state;
  const groups = timetable?.groups ?? [];
  return morningOf({
    arrangement,
    coverage,
    spots: spotsInUse(known.spots, log, arrangement),
    groups,
    stands: standsOf(log),
    fastestLapMs: fastestLapOf(known)?.ms ?? null,
    booked: bookedOf(log, groups),
    now,
  });
}

/** A class that is no group of the timetable is kept as it was written: it may be what arranging calls the group. */
const bookedOf = (log: FoldedLog, groups: readonly Group[]) =>
  (entriesOf(log) ?? []).flatMap(({ class: said, number, wants }) => {
    if (wants === undefined) return [];
    const group = groups.find(({ key, name }) => plain(said) === plain(key) || plain(said) === plain(name));
    return [{ group: group?.key ?? said, number, wants }];
  });

/** All that is told at lunch, for the desk's sheet and the terminal. Riders are keys: livery, number and picture are the arrangement's. */
import type { Morning, Watched } from '../../../core/cover/lunch/types.js';
import type { GroupPalette } from '../../../core/cover/palette/index.js';
import type { RiderKey, SpotId } from '../../../core/ids.js';
import type { Stay } from '../../../core/plan/day/types.js';
import type { Afternoon } from '../../../core/plan/lunch/types.js';
import type { Spot } from '../../../core/plan/types.js';
import type { KitRecords } from '../../../core/review/kit/index.js';
import type { WallMs } from '../../../core/units.js';

/** Where a plan meets a rider next. */
export interface NextMeeting {
  readonly stretch: string;
  readonly from: WallMs;
  readonly spot: SpotId;
  /** There is no good frame of this rider from there yet. */
  readonly isNewSpot: boolean;
}

/** At once, from what is known: nothing is solved for it. */
export interface LunchView {
  readonly day: WallMs;
  /** From when on the afternoon is planned. */
  readonly from: WallMs;
  readonly spots: readonly Spot[];
  readonly morning: Omit<Morning, 'owed' | 'yields'>;
  /** Groups that have no session left. */
  readonly outNoMore: readonly string[];
  readonly palette: readonly GroupPalette[];
  readonly kit: KitRecords;
  /** Why no afternoon can be planned, in sentences: no circuit, no timetable, no session left. Empty: it can. */
  readonly cannotPlan: readonly string[];
  /** Where the plan that stands now meets those on the watch list; riders whom it meets nowhere are absent. */
  readonly meetings: ReadonlyMap<RiderKey, NextMeeting>;
}

/** After the solver was asked. */
export type AfternoonView =
  | {
      readonly kind: 'afternoon';
      readonly afternoon: Afternoon;
      /** Of a `plan-taken`: the day until then as it was planned, the rest as found. */
      readonly take: readonly Stay[];
      /** Where the found plan meets those on the watch list. */
      readonly meetings: ReadonlyMap<Watched['rider'], NextMeeting>;
      readonly cautions: readonly string[];
    }
  /** Nothing can be found; in a sentence why. */
  | { readonly kind: 'none'; readonly sentence: string };

/**
 * The plan again at lunch: what riders are still owed, how often somebody who stands there gets them, and the plan kept beside
 * the plan found. Knows riders as counts only; who they are and what was seen of them is the coverage's.
 */
import type { RiderKey, SpotId } from '../../ids.js';
import type { Milliseconds, WallMs } from '../../units.js';
import type { FoundPlan, Stay } from '../day/types.js';

/** A rider of whom there is enough: good frames, and spots with one at least. */
export interface Aim {
  readonly spots: number;
  readonly goodFrames: number;
}

/** What one rider has so far. A rider whom no picture shows is in no list, only in the count of those unseen. */
export interface OwedRider {
  readonly rider: RiderKey;
  readonly group: string;
  /** How often this rider comes into pictures, of a rider who is out all the time and looked at as all are: a guess from the morning. */
  readonly often: number;
  /** Good frames by spot; spots without one are absent. */
  readonly good: ReadonlyMap<SpotId, number>;
}

/** Good frames that a rider who is out gives, standing there. A guess from the morning, leaning on the day where little was seen. */
export interface YieldAt {
  readonly group: string;
  /** Null: where nobody stood. */
  readonly spot: SpotId | null;
  readonly framesAMinute: number;
  /** When that was, in the middle; null: nobody stood there while the group ran. */
  readonly seenAt: WallMs | null;
  /** Good frames that come together, of one pass. */
  readonly framesAPass: number;
}

/** Lap so far, from the times at which a rider went by one spot. A guess. */
export interface LapSoFar {
  readonly ms: Milliseconds;
  /** Gaps of one lap that say so. */
  readonly laps: number;
}

/** Of one group: riders to be expected, by rates of the morning. A guess, all of it. */
export interface GroupGain {
  readonly group: string;
  readonly riders: number;
  /** Have enough now. */
  readonly now: number;
  /** Expected at the end of the day with the plan kept; null: there is none. */
  readonly kept: number | null;
  readonly found: number;
}

/** One session, or half of one, in both plans. */
export interface DifferenceRow {
  /** `only-found`: the plan kept has nobody anywhere then. */
  readonly kind: 'same' | 'changed' | 'only-found' | 'only-kept';
  /** From 0. */
  readonly photographer: number;
  /** `N5`, or `N5 first half` where the halves are not alike. */
  readonly stretch: string;
  readonly group: string;
  readonly from: WallMs;
  readonly to: WallMs;
  /** Null: on the way, or resting. */
  readonly kept: SpotId | null;
  readonly found: SpotId | null;
  /** In a sentence: why the found plan is there, or why it is nowhere. */
  readonly reason: string;
}

export interface KeptPlan {
  readonly stays: readonly Stay[];
  /** Counted as the plan found is; null: it cannot be walked any more, or goes against a wish. */
  readonly worth: number | null;
  /** Why not, in sentences; and sessions that the timetable no longer has. */
  readonly troubles: readonly string[];
}

/** The afternoon, both ways. */
export interface Afternoon {
  readonly from: WallMs;
  /** Null: no plan was taken for this afternoon. */
  readonly kept: KeptPlan | null;
  readonly found: FoundPlan;
  readonly rows: readonly DifferenceRow[];
  readonly gains: readonly GroupGain[];
  readonly remarks: readonly string[];
}

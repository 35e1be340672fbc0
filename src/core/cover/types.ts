/** Coverage: rider × spot × session by good frames. */
import type { RiderKey, SpotId } from '../ids.js';
import type { BikeRef } from '../arrange/types.js';

/** One arc of the coverage wheel. `to-come` and `missed` need the plan or the stands said by the person. */
export type CoverageState = 'good' | 'unsure' | 'missed' | 'to-come';

export interface CoverageCell {
  readonly spot: SpotId | null;
  readonly session: number;
  readonly goodFrames: number;
  readonly frames: number;
  readonly best: BikeRef | null;
}

export interface RiderCoverage {
  readonly rider: RiderKey;
  readonly cells: readonly CoverageCell[];
  /** Per spot, in the order of the meeting's spots: what the wheel shows. */
  readonly wheel: readonly {
    readonly spot: SpotId;
    readonly state: CoverageState;
    readonly goodFrames: number;
    readonly frames: number;
  }[];
  readonly goodFrames: number;
  readonly frames: number;
  readonly isThin: boolean;
}

export interface CoverageRules {
  /** Fewer good frames than this over the spots stood at while the group ran is thin. */
  readonly thinBelowGoodFrames: number;
}

export interface Coverage {
  readonly rules: CoverageRules;
  readonly riders: readonly RiderCoverage[];
  readonly thin: readonly RiderKey[];
  /** From an entry list or sign-on count: entries no picture shows. Absent when there is no list. */
  readonly neverSeen: readonly { readonly number?: string; readonly words: string }[] | null;
  /** Spots stood at with no frame of a group that ran then. */
  readonly emptyStands: readonly { readonly spot: SpotId; readonly session: number }[];
}

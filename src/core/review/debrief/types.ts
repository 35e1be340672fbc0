/** What worked in one meeting, counted: the page a photographer reads afterwards. */
import type { SpotId } from '../../ids.js';
import type { Difference } from '../../numeric/shareDifference.js';
import type { Share } from '../../numeric/wilson.js';
import type { Milliseconds, WallMs } from '../../units.js';
import type { EvidenceFrame, FocusLean, HowLow, ShimmerTrend } from '../kit/types.js';

/** What a share was counted of; what is pooled over is absent. */
export interface Taken {
  /** The usual third-stop time nearest to it, in seconds. */
  readonly shutterS?: number;
  readonly spot?: SpotId;
  readonly group?: string;
  /** One of `FOCAL_LENGTHS_MM`, as the lens says, not the equivalent. */
  readonly focalMm?: number;
}

/** Bikes in frames: a hit is sharp on the rider and whole. */
export interface HitRate {
  readonly kind: 'measurement';
  readonly of: Taken;
  readonly bikes: number;
  readonly hits: number;
  /** Missed because soft, and because cut by the edge; a bike is one of them. */
  readonly soft: number;
  readonly cut: number;
  /** Bikes of one pass stand and fall together: the range is as wide as so many passes make it. */
  readonly passes: number;
  readonly share: Share;
  /** Fewer passes than tell anything: said beside the range. */
  readonly isFew: boolean;
  /** Some that missed. */
  readonly evidence: readonly EvidenceFrame[];
}

export interface HourRate extends Omit<HitRate, 'of'> {
  /** Begin of the hour. */
  readonly hour: WallMs;
}

export interface SpotYield {
  readonly kind: 'measurement';
  readonly spot: SpotId;
  readonly sessions: number;
  /** Of track time while somebody stood there. */
  readonly minutes: number;
  /** `said`: by the stands; `frames`: from the first to the last frame there, and it may be more. */
  readonly minutesFrom: 'said' | 'frames' | 'both';
  readonly riders: number;
  readonly hits: number;
  readonly keepers: number;
  readonly keepersAMinute: { readonly rate: number; readonly from: number; readonly to: number } | null;
}

/** A stay of the plan, or one that stood in none, against what happened. */
export interface StayAsHappened {
  readonly session: string;
  readonly group: string | null;
  readonly planned: readonly SpotId[];
  readonly stood: readonly SpotId[];
  readonly is: 'as-planned' | 'elsewhere' | 'not-gone' | 'not-planned';
  readonly hits: number;
  /** Later than the timetable first said, by what was said through the day; null: not known. */
  readonly movedMs: Milliseconds | null;
}

/** Two settings of one spot, group and lens beside each other, or two spots. */
export interface Compared {
  readonly kind: 'measurement';
  readonly of: Taken;
  /** Quicker and slower shutter, in seconds. */
  readonly quicker: HitRate;
  readonly slower: HitRate;
  readonly difference: Difference;
  readonly isApart: boolean;
  readonly sentence: string;
}

/** Something the day shows, never what to do. */
export interface Evidence {
  readonly is: 'slower-missed' | 'slower-untried' | 'spots-apart' | 'not-gone';
  readonly sentence: string;
}

export interface Debrief {
  readonly exposures: number;
  readonly withBike: number;
  /** Bikes that nothing could be said of. */
  readonly unsure: number;
  readonly keepers: number;
  /** Null: no bike was judged. */
  readonly all: HitRate | null;
  readonly byShutter: readonly HitRate[];
  readonly bySpot: readonly HitRate[];
  readonly byGroup: readonly HitRate[];
  readonly byFocalLength: readonly HitRate[];
  readonly byShutterAtSpot: readonly HitRate[];
  /** Shutter × spot × group × focal length, as far as they are known. */
  readonly crossed: readonly HitRate[];
  readonly byHour: readonly HourRate[];
  readonly howLow: readonly HowLow[];
  readonly focus: readonly FocusLean[];
  readonly shimmer: readonly ShimmerTrend[];
  readonly spots: readonly SpotYield[];
  /** Null: no plan was taken. */
  readonly asPlanned: readonly StayAsHappened[] | null;
  readonly compared: readonly Compared[];
  readonly evidence: readonly Evidence[];
}

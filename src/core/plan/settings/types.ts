/** What to set at a spot for a group: starting points worked out, with practice beside them as ranges. */
import type { SpotId } from '../../ids.js';
import type { BikeSide, SpotView } from '../circuit/types.js';
import type { SpotLight } from '../light/types.js';

export type Range = readonly [low: number, high: number];

/** Not computed: what people do, with where it is from. `own-convention`: chosen for this program. */
export interface Practice {
  readonly range: Range;
  readonly basis: 'published' | 'common-practice' | 'own-convention';
  readonly says: string;
}

/** How quick a group rides. Said by a person; a name that says it is only a guess. */
export type Level = 'novice' | 'inters' | 'fast';

/** A person's word, a measurement and a guess are three things, and none of them becomes another. */
export type Speed =
  | { readonly kind: 'said'; readonly kmh: number }
  | { readonly kind: 'measured'; readonly kmh: number; readonly from: string }
  | {
      readonly kind: 'guessed';
      readonly from: 'lean-and-radius' | 'lap-record-and-pace' | 'word-about-another-group';
      readonly kmh: Range;
      readonly reasons: readonly string[];
    }
  | { readonly kind: 'unknown'; readonly reason: string };

export interface SpeedSources {
  readonly level: Level | null;
  /** A person's word about this group here. */
  readonly saidKmh?: number;
  readonly measured?: { readonly kmh: number; readonly from: string };
  /** Words about other groups here. */
  readonly others?: readonly { readonly group: string; readonly level: Level | null; readonly kmh: number }[];
  readonly lapRecordMs?: number;
  readonly lapLengthM?: number;
}

/** A body's sensor. */
export interface Sensor {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly widthPx: number;
  /** The lowest to use, 100 or more. */
  readonly baseIso: number;
}

export type BikeTone = 'dark' | 'middle' | 'white';

export interface SettingsInput {
  readonly view: SpotView;
  readonly group: string;
  readonly speed: SpeedSources;
  readonly light: SpotLight;
  readonly sensor: Sensor;
  /** Share of the frame that the bike fills; absent: 0.6. */
  readonly fill?: number;
  /** Absent: nobody said, so the span from dark to white is shown. */
  readonly tone?: BikeTone;
}

export interface Framing {
  /** Of the world across the frame, at the bike. */
  readonly widthM: number;
  /** That frames it so. */
  readonly focalMm: number;
  /** Nearest to it within what the spot is said to need; the rest is worked out with this one. */
  readonly usedFocalMm: number;
  readonly fill: number;
  /** Where the lens does not fit, or the spot is drawn on the track. */
  readonly notes: readonly string[];
}

/** What one shutter does to one group. Speeds are ranges, so these are. Null: the speed is not known. */
export interface Rung {
  readonly shutter: string;
  readonly seconds: number;
  /** `sure`: as quick as the start or quicker. `slow`: on the ladder. `too-slow`: below its end. */
  readonly kind: 'sure' | 'slow' | 'too-slow';
  /** Of the background, as share of the bike's length from nose to tail; none head-on. */
  readonly streak: Range | null;
  /** By the tyre's marking; ±5 % in use. */
  readonly wheelDeg: Range | null;
  /** Of the bike, in pixels, if the hand is 1 % off the bike's pace; none head-on. */
  readonly handBlurPx: Range | null;
  /** Of the bike, in pixels, from its own depth and coming nearer: no hand removes it. */
  readonly ownBlurPx: Range | null;
  /** Share of frames that come out, where anybody says so. */
  readonly chance: readonly Practice[];
}

export interface Ladder {
  readonly rungs: readonly Rung[];
  /** The sure shutter to start at, and how far down is worth while. */
  readonly start: string;
  readonly end: string;
  /** Where the streak is a tenth of the bike: slower groups need slower shutters for one look. */
  readonly tenthAt: string | null;
  /** What people use for this view. */
  readonly practice: readonly Practice[];
  readonly words: readonly string[];
}

export interface Exposed {
  readonly shutter: string;
  readonly fNumber: string;
  readonly iso: string;
  /** Stops of grey filter that are missing where even the smallest opening is too bright. */
  readonly greyStops: number;
  readonly airyPx: number;
}

export interface ExposureAdvice {
  readonly ev: Practice | null;
  /** For the meter of a camera; none with settings by hand in steady light. */
  readonly compensation: { readonly light: Practice | null; readonly bike: Practice };
  readonly atStart: Exposed | null;
  readonly atEnd: Exposed | null;
  readonly notes: readonly string[];
}

export interface SpotSettings {
  readonly spot: SpotId;
  readonly group: string;
  readonly side: BikeSide | 'both';
  readonly speed: Speed;
  /** What else is known or guessed of the speed; kept apart. */
  readonly otherSpeeds: readonly Speed[];
  readonly framing: Framing;
  /** Null: the speed is not known. */
  readonly panDegPerS: Range | null;
  /** At the opening of the start. Null without light. */
  readonly depthOfFieldM: { readonly near: number; readonly far: number | null } | null;
  /** By a camera that does not follow, at the start, in pixels. */
  readonly unfollowedBlurPx: Range | null;
  readonly ladder: Ladder;
  readonly exposure: ExposureAdvice;
  readonly shimmer: { readonly isToWatch: boolean; readonly reasons: readonly string[] };
}

/** Coverage: rider × spot × session by good frames. */

import type { BikeRef } from '../arrange/types.js';
import type { RiderKey, SpotId } from '../ids.js';

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

/**
 * What counts as sharp. All are ratios: no absolute sharpness carries over from one lens, spot or livery to
 * another (Pech-Pacheco's and Tenengrad's measures scale with contrast², resolution and noise).
 * The values are this project's own choice, to be mended when more labelled days exist.
 */
export interface GoodFrameRules {
  /** Share of what other riders' best frames reach there; from here on a frame is sharp. */
  readonly sharpFrom: number;
  /** The sharpest frame of a pass is held to this lower share: a dark livery has less contrast to measure. */
  readonly sharpestOfPassFrom: number;
  /** Of a sharp frame of the same pass: from this share on another is as sharp, as for the judge (JU3). */
  readonly asSharpFrom: number;
  /** So many passes of other riders make a comparison. */
  readonly passesToCompare: number;
  /** A place whose best frames reach less than this share of what the day's better ones do may be soft as a whole. */
  readonly doubtedBelow: number;
}

export interface CoverageRules {
  /** Fewer good frames than this over the spots stood at while the group ran is thin. */
  readonly thinBelowGoodFrames: number;
  readonly goodFrame?: GoodFrameRules;
}

/** Where the frames were found that a frame was compared with, nearest first. */
export type ComparedWith = 'spot-and-session' | 'session' | 'day' | 'own-pass';

/** Whether the bike is sharp and whole in a frame, with the reason in words. */
export type GoodFrameJudgement =
  | {
      readonly kind: 'good';
      readonly reason: string;
      readonly comparedWith: ComparedWith;
      /** Sharpness ÷ what others' best frames reach; null where only the frame's own pass could be compared. */
      readonly standing: number | null;
    }
  | {
      readonly kind: 'soft';
      readonly reason: string;
      readonly comparedWith: ComparedWith;
      readonly standing: number | null;
    }
  | { readonly kind: 'cut'; readonly reason: string }
  | { readonly kind: 'unsure'; readonly reason: string };

/** One line of an entry list or sign-on sheet. No names: those stay in `people/`. */
export interface Entry {
  readonly number?: string;
  /** Group or class; the same number may recur in another class. */
  readonly class?: string;
  /** What to say of this entry on a screen, for instance "94, orange, inters". */
  readonly words: string;
}

/** How many riders of a group no picture shows yet, in one session. A range, never one number. */
export interface Unseen {
  readonly session: number;
  readonly group: string | null;
  /** Riders seen in it. */
  readonly seen: number;
  /** Riders not seen: the range that holds the truth in 95 of 100 sessions. */
  readonly fromRiders: number;
  readonly toRiders: number;
  /** In one sentence: what it was worked out from. */
  readonly reason: string;
  readonly source: 'capture-recapture' | 'head-count';
  /** In one sentence: fewer were counted than are seen, so the range says nothing. */
  readonly contradicts?: string;
}

export interface Coverage {
  readonly rules: CoverageRules;
  readonly riders: readonly RiderCoverage[];
  readonly thin: readonly RiderKey[];
  /** From an entry list or sign-on count: entries no picture shows. Absent when there is no list. */
  readonly neverSeen: readonly { readonly number?: string; readonly words: string }[] | null;
  /** Entries without a number: whether they were seen cannot be told from numbers. */
  readonly cannotTell?: readonly { readonly words: string }[];
  /** Spots stood at with no frame of a group that ran then. */
  readonly emptyStands: readonly { readonly spot: SpotId; readonly session: number }[];
  /** Absent where nothing can be said. */
  readonly unseen?: readonly Unseen[];
}

/**
 * What the day's solver is asked, and what it answers. A day is a row of stretches (sessions or halves of them); in each the
 * photographer stands at one spot or is on the way. Value comes from groups seen from spots, with less for each further time.
 */
import type { SpotId } from '../../ids.js';
import type { WallMs } from '../../units.js';

export interface Stretch {
  /** `N3` or, halved, `N3 first half`. */
  readonly name: string;
  readonly slot: string;
  readonly group: string;
  readonly from: WallMs;
  readonly to: WallMs;
  readonly isSighting: boolean;
}

/** A wish of the person: it outranks every value. */
export type Wish =
  | { readonly kind: 'pin'; readonly stretch: string; readonly spot: SpotId }
  | { readonly kind: 'forbid'; readonly stretch: string; readonly spot: SpotId }
  /** 1 as it stands, 0 of no worth, 2 twice. */
  | { readonly kind: 'weigh-spot'; readonly spot: SpotId; readonly times: number }
  | { readonly kind: 'weigh-group'; readonly group: string; readonly times: number }
  | { readonly kind: 'closed'; readonly spot: SpotId; readonly from: WallMs; readonly to: WallMs }
  | { readonly kind: 'rest'; readonly from: WallMs; readonly to: WallMs };

export interface DayProblem {
  readonly stretches: readonly Stretch[];
  readonly spots: readonly SpotId[];
  /** Minutes from spot to spot with packing and setting up; null: no way that may be used while the track is hot. */
  readonly minutesBetween: readonly (readonly (number | null)[])[];
  /** Worth of one bike's group seen in a stretch from a spot before anything is seen twice: light, pace, side. `[stretch][spot]`, ≥ 0. */
  readonly worth: readonly (readonly number[])[];
  /** Share of the worth that a group's first, second, third … stretch at one spot keeps; falling. */
  readonly returns: readonly number[];
  /** Worth of a group seen from both sides at least once. */
  readonly bothSides: number;
  /** Side of the bike each spot shows. */
  readonly sides: readonly ('left' | 'right' | 'both')[];
  /** Worth a minute of moving costs. */
  readonly movingCost: number;
  /** Longest time without a rest, in minutes; null: nobody said. */
  readonly restAfterMinutes: number | null;
  readonly photographers: number;
  readonly wishes: readonly Wish[];
}

export interface Stay {
  readonly photographer: number;
  readonly stretch: string;
  /** Null: on the way or resting. */
  readonly spot: SpotId | null;
}

export type DayPlan =
  | {
      readonly kind: 'plan';
      readonly stays: readonly Stay[];
      readonly worth: number;
      /** No plan is worth more than this. */
      readonly bound: number;
      readonly isProvenBest: boolean;
      readonly from: 'solver' | 'greedy';
    }
  /** The smallest set of wishes found that cannot all be had. */
  | { readonly kind: 'impossible'; readonly colliding: readonly Wish[]; readonly sentence: string };

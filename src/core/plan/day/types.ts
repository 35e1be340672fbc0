/**
 * What the day's solver is asked, and what it answers. A day is a row of stretches (sessions or halves of them); in each the
 * photographer stands at one spot or is on the way. Value comes from groups seen from spots, with less for each further time.
 * Worth has no unit: 1 is a whole group seen once from one spot, everybody in it, in the best light and at the best pace.
 */
import type { SpotId } from '../../ids.js';
import type { WallMs } from '../../units.js';

export interface Stretch {
  /** `N3` or, halved, `N3 first half`; of a long session, `O1 part 3`. */
  readonly name: string;
  readonly slot: string;
  readonly group: string;
  readonly from: WallMs;
  readonly to: WallMs;
  readonly isSighting: boolean;
}

export interface Span {
  readonly from: WallMs;
  readonly to: WallMs;
}

/** A wish of the person: it outranks every value. A stretch may be named by its slot, and is then every half of it. */
export type Wish =
  | { readonly kind: 'pin'; readonly stretch: string; readonly spot: SpotId }
  | { readonly kind: 'forbid'; readonly stretch: string; readonly spot: SpotId }
  /** 1 as it stands, 0 of no worth, 2 twice. */
  | { readonly kind: 'weigh-spot'; readonly spot: SpotId; readonly times: number }
  | { readonly kind: 'weigh-group'; readonly group: string; readonly times: number }
  | ({ readonly kind: 'closed'; readonly spot: SpotId } & Span)
  | ({ readonly kind: 'rest' } & Span)
  | ({ readonly kind: 'rain' } & Span);

/** What a plan must keep to. Weights and rain are in the worth already. */
export type BindingWish = Extract<Wish, { readonly kind: 'pin' | 'forbid' | 'closed' | 'rest' }>;

/** A way that may be used while the track is hot. */
export interface DayWay {
  /** With packing and setting up. */
  readonly minutes: number;
  /** In worth: the legs, and what is carried. */
  readonly cost: number;
}

/** At the van with the cards, for so long within this time. No stretch runs into it. */
export interface VanBreak extends Span {
  readonly leastMinutes: number;
}

/** Seen already, before the plan begins. */
export interface Had {
  readonly group: string;
  readonly spot: SpotId;
  readonly worth: number;
}

export interface DayProblem {
  /** In order of time; none overlap. */
  readonly stretches: readonly Stretch[];
  readonly spots: readonly SpotId[];
  /** As a sentence calls them; in the order of the spots. */
  readonly spotNames: readonly string[];
  /** From spot to spot; null: no way that may be used while the track is hot. */
  readonly ways: readonly (readonly (DayWay | null)[])[];
  readonly vanWays: readonly (DayWay | null)[];
  /** Of a group seen in a stretch from a spot before anything is seen twice: light, pace, passes. `[stretch][spot]`, ≥ 0. */
  readonly worth: readonly (readonly number[])[];
  /** Counts in full every time, whoever was seen before: sighting laps, sun on the head, what never runs dry. May be below 0. */
  readonly besides: readonly (readonly number[])[];
  /** Share of its worth that a group's best, second best, third … stretch at one spot adds; falling, then nothing. */
  readonly returns: readonly number[];
  /** Worth of a group seen from both sides at least once, by group. */
  readonly bothSides: Readonly<Record<string, number>>;
  /** Side of the bike each spot shows. Null: head-on or going away, which stands for neither. */
  readonly sides: readonly ('left' | 'right' | null)[];
  readonly vanBreaks: readonly VanBreak[];
  /** Nobody works longer than this without so long neither standing nor on the way. Null: nobody said. */
  readonly rest: { readonly afterMinutes: number; readonly leastMinutes: number } | null;
  readonly photographers: number;
  /** Where the photographers are when the plan begins; a null place is the van. Null: before the day, free to walk. */
  readonly start: { readonly at: WallMs; readonly places: readonly (SpotId | null)[] } | null;
  readonly had: readonly Had[];
  readonly wishes: readonly BindingWish[];
}

export interface Stay {
  /** From 0. */
  readonly photographer: number;
  readonly stretch: string;
  /** Null: on the way or resting. */
  readonly spot: SpotId | null;
}

export interface FoundPlan {
  readonly kind: 'plan';
  readonly stays: readonly Stay[];
  readonly worth: number;
  /** No plan is worth more than this; null: nothing is proved yet. */
  readonly bound: number | null;
  readonly isProvenBest: boolean;
  readonly from: 'solver' | 'greedy';
}

/** What stands against a plan: wishes, and the limits that hold without one being said. */
export type Obstacle = BindingWish | { readonly kind: 'van-breaks' } | { readonly kind: 'rest-limit' };

export type DayPlan =
  | FoundPlan
  /** The smallest set found that cannot all be had: without any one of them there would be a plan. */
  | { readonly kind: 'impossible'; readonly colliding: readonly Obstacle[]; readonly sentence: string };

/** How much more the best there can be is worth, as a share: 0.01 is within 1 %. Null: nothing is proved. */
export const gapOf = ({ worth, bound }: FoundPlan): number | null => {
  if (bound === null) return null;
  return bound <= worth ? 0 : (bound - worth) / Math.max(Math.abs(worth), 1e-9);
};

/** A bound further away than all that the plan is worth tells nothing that anybody could use. */
const TELLS_NOTHING = 1;

/** As a person is told it; null: how far it is from the best is not known. */
export const toldGap = (plan: FoundPlan): number | null => {
  const gap = gapOf(plan);
  return gap === null || gap > TELLS_NOTHING ? null : gap;
};

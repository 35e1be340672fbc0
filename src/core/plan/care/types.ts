/**
 * Looking after the photographer: what the plan does to ears, skin, water, back and legs, and what to mind at each spot.
 * Levels of noise are guesses until somebody holds a meter up; temperature and humidity are a person's word.
 */

import type { UvClass, WbgtEstimate } from '../../numeric/heat.js';
import type { ProtectorRating } from '../../numeric/noise.js';
import type { Degrees, Metres, Milliseconds, WallMs } from '../../units.js';
import type { CircuitSpot } from '../circuit/types.js';

/** Time at one spot, without the ways between. */
export interface CareStay {
  readonly spot: CircuitSpot;
  readonly from: WallMs;
  readonly to: WallMs;
  /** To the bikes, along the view. */
  readonly distanceM: Metres;
  /** Absent: nobody said how many are out. */
  readonly bikesOut?: number;
}

/** A reading of one bike going by, on a meter. */
export interface LevelRead {
  readonly levelDb: number;
  readonly atM: Metres;
}

export interface Protector {
  readonly name: string;
  readonly rating: ProtectorRating;
}

export interface Air {
  readonly temperatureC: number;
  readonly humidityPercent: number;
}

export interface CareInput {
  /** In order of time. */
  readonly stays: readonly CareStay[];
  readonly lapMs?: Milliseconds;
  readonly level?: LevelRead;
  readonly protector?: Protector;
  readonly air?: Air;
  /** Where the sun stands at a time of the day planned for. */
  readonly sunAltitudeDeg?: (at: WallMs) => Degrees;
  /** All ways of the day together. */
  readonly walkedM?: Metres;
  readonly carriedKg?: number;
  readonly driveHomeMinutes?: number;
}

/** Three figures that nobody measured; `low` and `high` are where it may well lie, not where it must. */
export interface Span {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

export interface NoiseOfStay {
  readonly stay: CareStay;
  readonly minutes: number;
  /** Steady level over the stay. */
  readonly bareDb: Span;
  /** Behind the protector; null where none is said. */
  readonly atEarDb: Span | null;
  /** Share of a day's dose by the 1998 criteria, without a protector. */
  readonly barePercent: Span;
}

export type NoiseOfDay =
  | { readonly kind: 'no-stays'; readonly sentence: string }
  | {
      readonly kind: 'guess' | 'from-a-reading';
      readonly stays: readonly NoiseOfStay[];
      /** L_EP,d. */
      readonly bareDailyDb: Span;
      readonly atEarDailyDb: Span | null;
      /** When the likely level passes the upper action value without a protector; null: never by this plan. */
      readonly bareFullAt: WallMs | null;
      /** After the plan, at its loudest spot, until the upper action value at the ear (bare where no protector is said). */
      readonly minutesLeft: Span;
      /** What the levels rest on, each a sentence. */
      readonly basis: readonly string[];
      readonly sentences: readonly string[];
    };

export type HeatOfDay =
  | { readonly kind: 'not-said'; readonly sentence: string }
  | {
      readonly kind: 'heat';
      readonly air: Air;
      readonly heatIndexC: number;
      readonly wbgt: WbgtEstimate;
      readonly isHot: boolean;
      readonly sentences: readonly string[];
    };

export interface Drinking {
  readonly litres: readonly [from: number, to: number];
  readonly sentence: string;
}

export type UvOfDay =
  | { readonly kind: 'unknown'; readonly sentence: string }
  | {
      readonly kind: 'at-most';
      readonly highestIndex: number;
      readonly uvClass: UvClass;
      /** Stays in which the clear-sky index reaches 3. */
      readonly protectAt: readonly CareStay[];
      readonly sentence: string;
    };

/** What to mind. `spot` null: all day. */
export interface Caution {
  readonly spot: CircuitSpot | null;
  readonly sentence: string;
}

export interface CareOfDay {
  readonly noise: NoiseOfDay;
  readonly heat: HeatOfDay;
  readonly drinking: Drinking | null;
  readonly uv: UvOfDay;
  /** On foot, load, rest and the drive home. */
  readonly body: readonly string[];
  readonly cautions: readonly Caution[];
}

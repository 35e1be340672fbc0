/** Choosing: keepers per rider by sharpness, framing and variety. */
import type { BikeRef } from '../arrange/types.js';
import type { RiderKey } from '../ids.js';

export interface Keeper {
  readonly rider: RiderKey;
  readonly bike: BikeRef;
  /** Worth at the moment it was taken, 0–1 per part; shown as reasons. */
  readonly reasons: readonly string[];
  readonly worth: number;
  readonly source: 'proposed' | 'kept-by-person';
}

export interface ChooseRules {
  readonly mostPerRider: number;
  readonly mostPerSpot: number;
}

export interface Keepers {
  readonly rules: ChooseRules;
  readonly byRider: ReadonlyMap<RiderKey, readonly Keeper[]>;
  /** Frames a person left out. */
  readonly leftOut: readonly BikeRef[];
}

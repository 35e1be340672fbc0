/** How one rider's bike and clothes are coloured. Plain data, made by the field's invention or by hand. */
import type { ColourName } from '../../src/core/measure/types.js';

export type BikePattern = 'plain' | 'sweep' | 'bands' | 'split' | 'lowerHalf' | 'stripe' | 'flames' | 'checks';
export type SuitPattern = 'plain' | 'sides' | 'yoke' | 'hoops' | 'legs';
export type HelmetPattern = 'plain' | 'wave' | 'spokes' | 'stripe' | 'crown';

export interface Livery {
  readonly base: ColourName;
  readonly accent: ColourName;
  readonly line: ColourName;
  readonly pattern: BikePattern;
  readonly rims: ColourName;
  readonly suit: ColourName;
  readonly suitAccent: ColourName;
  readonly suitPattern: SuitPattern;
  readonly helmet: ColourName;
  readonly helmetAccent: ColourName;
  readonly helmetPattern: HelmetPattern;
  readonly boots: ColourName;
  readonly gloves: ColourName;
  readonly visor: 'dark' | 'blue' | 'amber';
  readonly number: string | null;
  readonly plate: ColourName;
  /** 0 clean … 1 a day's worth of flies and rubber. */
  readonly dirt: number;
}

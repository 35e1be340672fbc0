/** The frames that a bike's sharpness is held against: those of its pass. */
import type { BikeRef } from '../../core/arrange/types.js';
import { bikeKeyOf } from '../../core/cover/index.js';
import type { DayState } from '../../host/day/types.js';

export function besidesOf(
  { arrangement }: DayState,
  asked: readonly BikeRef[],
): ReadonlyMap<string, readonly BikeRef[]> {
  const keys = new Set(asked.map(bikeKeyOf));
  const besides = new Map<string, readonly BikeRef[]>();
  for (const { bikes } of arrangement.passes)
    for (const bike of bikes) {
      const key = bikeKeyOf(bike);
      if (keys.has(key))
        besides.set(
          key,
          bikes.filter((other) => other !== bike),
        );
    }
  return besides;
}

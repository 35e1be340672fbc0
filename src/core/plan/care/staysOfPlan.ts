/** From a plan of stretches and spots to the stays that care reckons with. */
import type { SpotId } from '../../ids.js';
import type { Metres } from '../../units.js';
import type { CircuitSpot } from '../circuit/types.js';
import type { Stay, Stretch } from '../day/types.js';
import type { CareStay } from './types.js';

export interface PlannedDay {
  readonly stays: readonly Stay[];
  readonly stretches: readonly Stretch[];
  readonly spots: readonly CircuitSpot[];
  /** To the bikes, as drawn or said; absent: not known, and then the stay is left out of what noise is guessed from. */
  readonly distanceM: ReadonlyMap<SpotId, Metres>;
  /** By group, where somebody said how many ride. */
  readonly bikesOut?: ReadonlyMap<string, number>;
}

/** Of one photographer, in order of time. What the timetable no longer has, or the circuit, is left out. */
export function careStaysOf(planned: PlannedDay, photographer: number): readonly CareStay[] {
  const stretches = new Map(planned.stretches.map((stretch) => [stretch.name, stretch]));
  const spots = new Map(planned.spots.map((spot) => [spot.id, spot]));
  return planned.stays
    .flatMap((stay): readonly CareStay[] => {
      const stretch = stretches.get(stay.stretch);
      const spot = stay.spot === null ? undefined : spots.get(stay.spot);
      const distanceM = stay.spot === null ? undefined : planned.distanceM.get(stay.spot);
      if (stay.photographer !== photographer || !stretch || !spot || distanceM === undefined) return [];
      const bikesOut = planned.bikesOut?.get(stretch.group);
      return [{ spot, from: stretch.from, to: stretch.to, distanceM, ...(bikesOut === undefined ? {} : { bikesOut }) }];
    })
    .sort((a, b) => a.from - b.from);
}

/** The afternoon's problem: the rest of the day as the timetable now has it, worth what riders are still owed. Rule PL1208. */
import type { SpotId } from '../../ids.js';
import type { WallMs } from '../../units.js';
import type { DayInputs } from '../day/inputs.js';
import { type AskedDay, problemOfDay } from '../day/problemOfDay.js';
import { stretchesOfDay } from '../day/stretchesOfDay.js';
import type { Had, Stay } from '../day/types.js';
import { demandsOf, type OwedMorning } from './owed.js';

export interface AfternoonWish {
  readonly from: WallMs;
  /** By photographer; null: at the van, as lunch has it. */
  readonly places: readonly (SpotId | null)[];
  /** What is planned already and shall be added to; empty: from nothing. */
  readonly beside: readonly Stay[];
}

export function askedAfternoon(
  inputs: Omit<DayInputs, 'demands' | 'underWay'>,
  morning: OwedMorning,
  { from, places, beside }: AfternoonWish,
): AskedDay {
  const stretches = stretchesOfDay(inputs.timetable, inputs.isHalved, from);
  const spots = inputs.spots.map(({ id }) => id);
  return problemOfDay({
    ...inputs,
    demands: demandsOf(morning, stretches, spots, beside),
    underWay: { at: from, places, had: sidesHad(morning, spots) },
  });
}

/** A spot from which half the group has good frames has shown its side; what it is still worth the demands say. */
function sidesHad({ owed }: OwedMorning, spots: readonly SpotId[]): Had[] {
  const groups = [...new Set(owed.map(({ group }) => group))];
  return groups.flatMap((group) => {
    const own = owed.filter((rider) => rider.group === group);
    return spots
      .filter((spot) => own.filter(({ good }) => good.has(spot)).length * 2 >= own.length)
      .map((spot) => ({ group, spot, worth: 0 }));
  });
}

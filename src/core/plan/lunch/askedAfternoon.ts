/** The afternoon's problem: the rest of the day as the timetable now has it. Rule PL1208. */
import type { SpotId } from '../../ids.js';
import type { WallMs } from '../../units.js';
import type { DayInputs } from '../day/inputs.js';
import { type AskedDay, problemOfDay } from '../day/problemOfDay.js';
import { stretchesOfDay } from '../day/stretchesOfDay.js';
import type { DayProblem, Had } from '../day/types.js';
import { demandsOf, type OwedMorning } from './owed.js';
import { Yields } from './passesOf.js';

export interface AfternoonWish {
  readonly from: WallMs;
  /** By photographer; null: at the van, as lunch has it. */
  readonly places: readonly (SpotId | null)[];
}

export type AfternoonInputs = Omit<DayInputs, 'demands' | 'underWay'>;

export interface AskedAfternoon {
  /** Each stretch worth what it would bring those who are owed something, were it the only one. */
  readonly owed: AskedDay;
  /** Worth light, pace and sides alone, with what was seen in the morning. */
  readonly plain: DayProblem;
}

export function askedAfternoon(
  inputs: AfternoonInputs,
  morning: OwedMorning,
  { from, places }: AfternoonWish,
): AskedAfternoon {
  const stretches = stretchesOfDay(inputs.timetable, inputs.isHalved, from);
  const spots = inputs.spots.map(({ id }) => id);
  const had = hadOf(morning, spots);
  const asked = (demands: DayInputs['demands'], seen: readonly Had[]) =>
    problemOfDay({ ...inputs, demands, underWay: { at: from, places, had: seen } });
  return {
    owed: asked(demandsOf(morning, new Yields(morning.yields, inputs), stretches, spots), sidesOf(had)),
    plain: asked([], had).problem,
  };
}

/** Of a group at a spot: the share of its riders with a good frame from there. */
function hadOf({ owed }: OwedMorning, spots: readonly SpotId[]): Had[] {
  const groups = [...new Set(owed.map(({ group }) => group))];
  return groups.flatMap((group) => {
    const own = owed.filter((rider) => rider.group === group);
    return spots
      .map((spot) => ({ group, spot, worth: own.filter(({ good }) => good.has(spot)).length / own.length }))
      .filter(({ worth }) => worth > 0);
  });
}

/** A spot from which half the group has good frames has shown its side; what it is still worth is owed, and in the demands. */
const sidesOf = (had: readonly Had[]): Had[] =>
  had.filter(({ worth }) => worth >= 0.5).map(({ group, spot }) => ({ group, spot, worth: 0 }));

/** Where the plan that was taken has one stand, all photographers together. */
import { handsOf } from '../../core/plan/sheet/hands.js';
import { staysOf } from '../../core/plan/sheet/stays.js';
import { DAY_MS } from '../../core/plan/sheet/words.js';
import type { Spot } from '../../core/plan/types.js';
import type { WallMs } from '../../core/units.js';
import { spotsOf } from '../../host/day/derive.js';
import type { DayState } from '../../host/day/types.js';
import { sourceOf } from '../../host/plan/sheet/saidOfPlan.js';

export interface StandAt {
  readonly number: number;
  readonly name: string;
  readonly from: WallMs;
  readonly to: WallMs;
}

export function plannedStands({ log, timetable, about }: DayState, day: WallMs): readonly StandAt[] {
  const source = sourceOf(log, timetable, day);
  if (source.kind !== 'plan' || timetable === null) return [];
  const spots = spotsOf(log, about.spots) as readonly Spot[];
  const slots = timetable.slots.filter(({ start }) => start >= day && start < day + DAY_MS);
  const planned = Math.max(1, ...source.stays.map(({ photographer }) => photographer + 1));
  const all = Array.from({ length: handsOf(source, day, planned) }, (_, photographer) =>
    staysOf({ source, slots, spots, photographer, day }).stays.map(({ spot: { number, name }, begins, to }) => ({
      number,
      name,
      from: begins,
      to,
    })),
  );
  return all.flat().sort((a, b) => a.from - b.from);
}

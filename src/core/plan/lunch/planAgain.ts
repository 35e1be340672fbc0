/** The afternoon planned anew beside the plan kept. Rule PL1208. */
import type { DayInputs } from '../day/inputs.js';
import type { AskedDay } from '../day/problemOfDay.js';
import type { DayPlan, FoundPlan, Stay } from '../day/types.js';
import { worthOfPlan } from '../day/worthOfPlan.js';
import { AFTERNOON_AIM } from './aim.js';
import { type AfternoonWish, askedAfternoon } from './askedAfternoon.js';
import { differencesOf, keptPlanOf } from './differences.js';
import { expectedOf } from './expected.js';
import { gainsOf } from './gains.js';
import type { OwedMorning } from './owed.js';
import { passesOf, Yields } from './passesOf.js';
import type { Afternoon } from './types.js';

export interface AfternoonAsked {
  /** In force: with its slips. */
  readonly inputs: Omit<DayInputs, 'demands' | 'underWay'>;
  readonly morning: OwedMorning;
  readonly wish: Omit<AfternoonWish, 'beside'>;
  /** The plan taken before, of the whole day; null: none. */
  readonly taken: readonly Stay[] | null;
}

export type SolveDay = (problem: AskedDay['problem']) => Promise<DayPlan>;

/**
 * What a stretch is worth hangs on what else is stood for, and the solver takes each by itself: so it is asked twice, the second
 * time with every stretch worth what it adds to the first answer. What may be expected of the answers decides between them.
 */
export async function planAgain(
  asked: AfternoonAsked,
  solve: SolveDay,
): Promise<Afternoon | Extract<DayPlan, { kind: 'impossible' }>> {
  const { inputs, morning, wish } = asked;
  const first = askedAfternoon(inputs, morning, { ...wish, beside: [] });
  const once = await solve(first.problem);
  if (once.kind === 'impossible') return once;
  const second = askedAfternoon(inputs, morning, { ...wish, beside: once.stays });
  const twice = await solve(second.problem);
  if (twice.kind !== 'plan' || !isBetter(asked, first, twice.stays, once.stays)) return afternoonOf(asked, first, once);
  return afternoonOf(asked, first, { ...twice, bound: once.bound, isProvenBest: false });
}

const isBetter = (
  { morning }: AfternoonAsked,
  { problem }: AskedDay,
  a: readonly Stay[],
  b: readonly Stay[],
): boolean => setsWorth(morning, problem, a) > setsWorth(morning, problem, b);

/** Of all riders' sets at the end of the day. */
export function setsWorth(morning: OwedMorning, { stretches }: AskedDay['problem'], stays: readonly Stay[]): number {
  const yields = new Yields(morning.yields);
  const groups = new Map(
    [...new Set(stretches.map(({ group }) => group))].map((group) => [
      group,
      passesOf(group, stretches, stays, yields),
    ]),
  );
  return morning.owed.reduce((sum, rider) => {
    const passes = groups.get(rider.group) ?? new Map();
    const framesAPass = morning.yields[0]?.framesAPass ?? 1;
    return sum + expectedOf(rider, passes, framesAPass, AFTERNOON_AIM).worth;
  }, 0);
}

/** Worth is told by one and the same count for both: that of the rest of the day by itself. */
function afternoonOf({ morning, wish, taken, inputs }: AfternoonAsked, asked: AskedDay, found: FoundPlan): Afternoon {
  const { problem } = asked;
  const isOver = (stretch: string): boolean =>
    inputs.timetable.slots.some(
      ({ name, start }) => start < wish.from && (stretch === name || stretch.startsWith(`${name} `)),
    );
  const kept = taken === null ? null : keptPlanOf(problem, taken, isOver);
  const keptStays = kept === null ? null : kept.stays;
  const judged = worthOfPlan(problem, found.stays);
  return {
    from: wish.from,
    kept: kept !== null && kept.stays.length === 0 && kept.troubles.length === 0 ? null : kept,
    found: judged.kind === 'worth' ? { ...found, worth: judged.worth } : found,
    rows: differencesOf(asked, keptStays, found.stays),
    gains: gainsOf(morning, problem.stretches, keptStays, found.stays),
    remarks: asked.unheard,
  };
}

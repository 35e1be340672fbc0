/** The afternoon planned anew beside the plan kept. Rule PL1208. */
import type { DayPlan, DayProblem, FoundPlan, Stay } from '../day/types.js';
import { type AfternoonInputs, type AfternoonWish, type AskedAfternoon, askedAfternoon } from './askedAfternoon.js';
import { differencesOf, keptStaysOf } from './differences.js';
import { bestOfFewMoves } from './fewMoves.js';
import { gainsOf } from './gains.js';
import { type Improving, improve, type JudgePlan, judgeOfPlans } from './improve.js';
import type { OwedMorning } from './owed.js';
import type { Afternoon } from './types.js';

export interface AfternoonAsked {
  /** In force: with its slips. */
  readonly inputs: AfternoonInputs;
  readonly morning: OwedMorning;
  readonly wish: AfternoonWish;
  /** The plan taken before, of the whole day; null: none. */
  readonly taken: readonly Stay[] | null;
}

export type SolveDay = (problem: DayProblem) => Promise<DayPlan>;

/**
 * The solver gives a plan to begin from: a good one of all that can be walked and that keep every wish. What a stretch is worth
 * hangs on what else is stood for; so what the solver found, the best of few moves and the plan kept are each bettered step by
 * step, and the best end is taken.
 */
export async function planAgain(
  asked: AfternoonAsked,
  solve: SolveDay,
  pause: Improving['pause'],
): Promise<Afternoon | Extract<DayPlan, { kind: 'impossible' }>> {
  const day = askedAfternoon(asked.inputs, asked.morning, asked.wish);
  const solved = await solve(day.owed.problem);
  if (solved.kind === 'impossible') return solved;
  const judge = judgeOfPlans(day.plain, asked.morning, asked.inputs);
  const kept = keptOf(asked, day, judge);
  const keptStays = kept === null || kept.worth === null ? [] : [kept.stays];
  const few = await bestOfFewMoves({ problem: day.plain, judge, pause }, solved.stays);
  let best = solved.stays;
  for (const begin of [few, solved.stays, ...keptStays]) {
    const end = await improve({ problem: day.plain, judge, pause }, begin);
    if ((judge(end) ?? Number.NEGATIVE_INFINITY) > (judge(best) ?? Number.NEGATIVE_INFINITY)) best = end;
  }
  return afternoonOf(asked, day, kept, foundOf(solved, best, judge));
}

/** What the solver proved, it proved of its own plan. */
const foundOf = (solved: FoundPlan, stays: readonly Stay[], judge: JudgePlan): FoundPlan => ({
  ...solved,
  stays,
  worth: judge(stays) ?? solved.worth,
  bound: null,
  isProvenBest: false,
});

function keptOf(
  { taken, inputs, wish }: AfternoonAsked,
  { plain }: AskedAfternoon,
  judge: JudgePlan,
): Afternoon['kept'] {
  if (taken === null) return null;
  const isOver = (stretch: string): boolean =>
    inputs.timetable.slots.some(
      ({ name, start }) => start < wish.from && (stretch === name || stretch.startsWith(`${name} `)),
    );
  const { stays, troubles } = keptStaysOf(plain, taken, isOver);
  return stays.length === 0 && troubles.length === 0 ? null : { stays, worth: judge(stays), troubles };
}

function afternoonOf(
  { inputs, morning, wish }: AfternoonAsked,
  { owed }: AskedAfternoon,
  kept: Afternoon['kept'],
  found: FoundPlan,
): Afternoon {
  const keptStays = kept === null ? null : kept.stays;
  return {
    from: wish.from,
    kept,
    found,
    rows: differencesOf(owed, keptStays, found.stays),
    gains: gainsOf(morning, inputs, owed.problem.stretches, keptStays, found.stays),
    remarks: owed.unheard,
  };
}

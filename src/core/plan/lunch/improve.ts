/**
 * A plan bettered step by step by what may be expected of it. The solver takes each stretch by itself; whether a rider has enough
 * hangs on all of them. In each step every run of stretches is tried at every spot, and the best change is kept: local search by
 * steepest ascent, to an end from which no such change is better. Not proved to be the best there is. Rule PL1208.
 */

import type { DayProblem, Stay } from '../day/types.js';
import { isMeant, worthOfPlan } from '../day/worthOfPlan.js';
import type { OwedMorning } from './owed.js';
import type { Outlook } from './passesOf.js';
import { SetsWorth } from './setsWorth.js';

/**
 * What is seen of groups in which light and from which sides, less the ways, against riders' sets: a group once more from one
 * spot in the best light weighs as much as one rider more with enough. A convention of this program.
 */
const GROUPS_AGAINST_SETS = 0.5;
/** Longer runs than a round are changed in two steps. */
const LONGEST_RUN = 8;
/** Stretches before and after that are left free for the ways to a run, fewest first. */
const FREED: readonly (readonly [before: number, after: number])[] = [
  [0, 0],
  [1, 0],
  [0, 1],
  [1, 1],
  [2, 1],
  [1, 2],
  [2, 2],
];
const MOST_STEPS = 12;

export interface Improving {
  readonly problem: DayProblem;
  readonly judge: JudgePlan;
  /** Waited for now and then: whoever else has work gets a turn. True: it is enough. */
  readonly pause: () => Promise<boolean>;
}

/** Null: the plan cannot be walked, or goes against a wish. */
export type JudgePlan = (stays: readonly Stay[]) => number | null;

/** `problem` of the rest of the day without what is owed: that is counted rider by rider. */
export function judgeOfPlans(problem: DayProblem, morning: OwedMorning, outlook: Outlook): JudgePlan {
  const sets = new SetsWorth(morning, outlook, problem.stretches);
  return (stays) => {
    const judged = worthOfPlan(problem, stays);
    return judged.kind === 'broken' ? null : sets.of(stays) + GROUPS_AGAINST_SETS * judged.worth;
  };
}

export async function improve({ problem, judge, pause }: Improving, from: readonly Stay[]): Promise<readonly Stay[]> {
  let best: Valued = { stays: from, value: judge(from) ?? Number.NEGATIVE_INFINITY };
  for (let step = 0; step < MOST_STEPS; step += 1) {
    let better: Valued | null = null;
    for (let photographer = 0; photographer < problem.photographers; photographer += 1)
      for (const first of problem.stretches.keys()) {
        if (await pause()) return best.stays;
        const found = bestChange(problem, best.stays, { photographer, first }, judge);
        if (found !== null && found.value > (better ?? best).value + LEAST_GAIN) better = found;
      }
    if (better === null) break;
    best = better;
  }
  return best.stays;
}

/** Less is the arithmetic's. */
const LEAST_GAIN = 1e-6;

interface Valued {
  readonly stays: readonly Stay[];
  readonly value: number;
}

interface Run {
  readonly photographer: number;
  readonly first: number;
}

function bestChange(problem: DayProblem, stays: readonly Stay[], run: Run, judge: JudgePlan): Valued | null {
  let best: Valued | null = null;
  const end = Math.min(problem.stretches.length, run.first + LONGEST_RUN);
  for (let last = run.first; last < end; last += 1)
    for (const spot of [...problem.spots, null])
      for (const freed of FREED) {
        const changed = changedIn(problem, stays, run, last, spot, freed);
        const value = changed === null ? null : judge(changed);
        if (changed === null || value === null) continue;
        if (best === null || value > best.value) best = { stays: changed, value };
        break;
      }
  return best;
}

/** Null: a wish is against it, or nothing changes. */
function changedIn(
  problem: DayProblem,
  stays: readonly Stay[],
  { photographer, first }: Run,
  last: number,
  spot: Stay['spot'],
  [before, after]: readonly [number, number],
): readonly Stay[] | null {
  if (spot !== null && !mayStand(problem, first, last, spot)) return null;
  const own = new Map(
    stays.filter((stay) => stay.photographer === photographer).map((stay) => [stay.stretch, stay.spot]),
  );
  const row = problem.stretches.map(({ name }, i): Stay => {
    const was = own.get(name) ?? null;
    const is = i >= first && i <= last ? spot : i >= first - before && i <= last + after ? null : was;
    return { photographer, stretch: name, spot: is };
  });
  if (row.every(({ stretch, spot: is }) => is === (own.get(stretch) ?? null))) return null;
  return [...stays.filter((stay) => stay.photographer !== photographer), ...row];
}

const mayStand = (problem: DayProblem, first: number, last: number, spot: Stay['spot']): boolean =>
  problem.stretches
    .slice(first, last + 1)
    .every((stretch) =>
      problem.wishes.every(
        (wish) => wish.kind === 'pin' || !isMeant(wish, stretch) || (wish.kind !== 'rest' && wish.spot !== spot),
      ),
    );

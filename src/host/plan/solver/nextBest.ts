/** What the next best would cost, for a stay that is asked about: the day is solved anew without it. */
import {
  type DayProblem,
  dayWithout,
  type FoundPlan,
  type NextBest,
  nextBest,
  type Stay,
} from '../../../core/plan/day/index.js';
import type { DaySolver } from './daySolver.js';

/** Somebody waits for the answer; what is found until then has its bounds. */
const TIME_LIMIT_S = 2;

/** Null: without this stay there is no plan. */
export const askNextBest = async (
  solver: DaySolver,
  problem: DayProblem,
  plan: FoundPlan,
  stay: Stay,
): Promise<NextBest | null> => {
  const without = await solver.solve(dayWithout(problem, stay), { timeLimitS: TIME_LIMIT_S });
  return nextBest(problem, plan, stay, without);
};

/** A plan as it is followed: whoever cannot be somewhere when a stretch begins misses it, and goes on to the next. */
import type { DayProblem, Stay } from '../../../src/core/plan/day/index.js';
import { legBetween, minutesOf, type Standing } from '../../../src/core/plan/day/legs.js';
import { startOf } from '../../../src/core/plan/day/worthOfPlan.js';

/** Of one photographer. A rest may be given up, a way may not. */
export function followed(problem: DayProblem, plan: readonly Stay[]): readonly Stay[] {
  const stays: Stay[] = [];
  let here: Standing = startOf(problem, 0);
  for (const stretch of problem.stretches) {
    const stay = plan.find(({ stretch: name }) => name === stretch.name);
    const place = stay === undefined || stay.spot === null ? -1 : problem.spots.indexOf(stay.spot);
    if (stay === undefined || place < 0) continue;
    if (legBetween(problem, here, { place, atMinute: minutesOf(stretch.from) }) === null) continue;
    stays.push(stay);
    here = { place, atMinute: minutesOf(stretch.to) };
  }
  return stays;
}

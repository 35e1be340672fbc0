/** Every plan of a tiny day, judged one by one. It knows nothing of ways, networks or solvers. */
import type { SpotId } from '../../../ids.js';
import type { DayProblem, Stay } from '../types.js';
import { worthOfPlan } from '../worthOfPlan.js';

/** Null: no plan keeps all wishes. */
export function bruteForce(problem: DayProblem): { readonly worth: number; readonly stays: readonly Stay[] } | null {
  const choices: readonly (SpotId | null)[] = [null, ...problem.spots];
  const places = problem.photographers * problem.stretches.length;
  let best: { worth: number; stays: Stay[] } | null = null;
  for (let code = 0; code < choices.length ** places; code += 1) {
    const stays = staysOf(problem, choices, code);
    const judged = worthOfPlan(problem, stays);
    if (judged.kind === 'worth' && (best === null || judged.worth > best.worth)) best = { worth: judged.worth, stays };
  }
  return best;
}

/** The digits of a number, in a system of as many digits as there are choices. */
function staysOf({ stretches, photographers }: DayProblem, choices: readonly (SpotId | null)[], code: number): Stay[] {
  let rest = code;
  return Array.from({ length: photographers }, (_, photographer) =>
    stretches.map(({ name }): Stay => {
      const spot = choices[rest % choices.length]!;
      rest = Math.floor(rest / choices.length);
      return { photographer, stretch: name, spot };
    }),
  ).flat();
}

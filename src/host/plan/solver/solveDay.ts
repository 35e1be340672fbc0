/** A day solved in this thread: a plan at once, then the best one, or what cannot be had together. */
import {
  type DayPlan,
  type DayProblem,
  type FoundPlan,
  greedyDay,
  modelOfDay,
  sentenceOfCollision,
  smallestCollision,
  worthOfPlan,
} from '../../../core/plan/day/index.js';
import { type Highs, type RunOptions, type RunOutcome, runModel } from './highs.js';
import { SolverError } from './solverError.js';

export interface SolveOptions extends RunOptions {
  /** Found at once, while the search begins. */
  readonly onFirst?: (plan: FoundPlan) => void;
}

export function solveDay(highs: Highs, problem: DayProblem, options: SolveOptions): DayPlan {
  const greedy = greedyDay(problem);
  const first: FoundPlan | null = greedy && {
    kind: 'plan',
    ...greedy,
    bound: null,
    isProvenBest: false,
    from: 'greedy',
  };
  if (first) options.onFirst?.(first);
  const model = modelOfDay(problem);
  const start = first ? { start: model.standing(first.stays) } : {};
  const outcome = runModel(highs, model.text, { ...options, ...start });
  if (outcome.kind === 'impossible') return impossible(highs, problem, options);
  const solved = outcome.kind === 'solution' ? planOf(problem, model.read(outcome.valueFor), outcome) : null;
  const better = solved === null || (first !== null && first.worth > solved.worth) ? first : solved;
  if (better === null) throw nothingFound(options);
  const bound = solved?.bound ?? null;
  return bound === null ? better : bounded(better, bound);
}

/** A bound is only as exact as the solver's sums: a worth in decimals may stand a little above it. */
function bounded(plan: FoundPlan, bound: number): FoundPlan {
  const isProvenBest = bound - plan.worth <= SAME * Math.max(1, Math.abs(bound));
  return { ...plan, bound: Math.max(bound, plan.worth), isProvenBest };
}

const SAME = 1e-5;

function planOf(problem: DayProblem, stays: FoundPlan['stays'], found: RunOutcome & { kind: 'solution' }): FoundPlan {
  const { objective, bound } = found;
  const judged = worthOfPlan(problem, stays);
  if (judged.kind === 'broken')
    throw new SolverError(`The solver's plan cannot be walked: ${judged.sentences[0]} ${FAULT}`);
  // Below is no fault: what ends by the clock may not have filled every place that its stays allow.
  if (judged.worth < objective - tolerance(objective) || (bound !== null && judged.worth > bound + tolerance(bound)))
    throw new SolverError(
      `The solver counts ${objective}, at most ${bound}, for what is worth ${judged.worth}. ${FAULT}`,
    );
  return { kind: 'plan', stays, worth: judged.worth, bound, isProvenBest: false, from: 'solver' };
}

const FAULT = 'This is a fault of the program; please report it with the meeting.';

const tolerance = (worth: number): number => 1e-3 * Math.max(1, Math.abs(worth));

function impossible(highs: Highs, problem: DayProblem, options: RunOptions): DayPlan {
  const isPossible = (less: DayProblem) =>
    runModel(highs, modelOfDay(less, { isOnlyWays: true }).text, { ...options, gap: 1 }).kind !== 'impossible';
  const colliding = smallestCollision(problem, isPossible);
  return { kind: 'impossible', colliding, sentence: sentenceOfCollision(problem, colliding) };
}

const nothingFound = ({ timeLimitS }: RunOptions): SolverError =>
  new SolverError(
    `Expected a plan within ${timeLimitS} s but none was found that keeps all wishes; none was shown to be impossible either. Take a pin back, or give it more time.`,
  );

/**
 * A day solved in this thread: a plan at once, how much better the best can be, and where that is not near enough the whole
 * programme; or what cannot be had together.
 */
import {
  betterDay,
  boundOfDay,
  type DayPlan,
  type DayProblem,
  type FoundPlan,
  gapOf,
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
  const endsAt = performance.now() + 1000 * options.timeLimitS;
  const first = foundAtOnce(problem);
  if (first) options.onFirst?.(first);
  const shouldStop = () => options.shouldStop?.() === true || performance.now() > endsAt;
  const near = first && options.gap > 0 ? bettered(problem, first, { ...options, shouldStop }) : first;
  if (near !== null && (isNear(near, options) || options.shouldStop?.())) return near;
  return searched(highs, problem, { ...options, endsAt }, near);
}

interface SearchOptions extends RunOptions {
  readonly endsAt: number;
}

const isNear = (plan: FoundPlan, { gap }: SolveOptions): boolean => (gapOf(plan) ?? Number.POSITIVE_INFINITY) <= gap;

function foundAtOnce(problem: DayProblem): FoundPlan | null {
  const found = betterDay(problem, greedyDay(problem));
  return found && { kind: 'plan', ...found, bound: null, isProvenBest: false, from: 'greedy' };
}

/** With its bound; the walks met on the way to that may lead on to a better plan, and so may the plan itself, warmed again. */
function bettered(problem: DayProblem, first: FoundPlan, options: SolveOptions): FoundPlan {
  const { bound, met } = boundOfDay(problem, { ...options, worth: first.worth });
  const better = (now: FoundPlan, day: Pick<FoundPlan, 'stays' | 'worth'> | null): FoundPlan =>
    day !== null && day.worth > now.worth ? bounded({ ...now, ...day }, bound) : now;
  let best = better(bounded(first, bound), met);
  const goesOn = () => !isNear(best, options) && options.shouldStop?.() !== true;
  if (met !== null && goesOn()) best = better(best, betterDay(problem, met, CARRYING_ON));
  for (let again = 0; again < WARMED_AGAIN && goesOn(); again += 1) best = better(best, betterDay(problem, best));
  return best;
}

/** In worth; what was met shall not be forgotten at once. */
const CARRYING_ON = 0.08;
/** Where rests are due this brings up to 1 % (`bench/solver.ts`), each time less. */
const WARMED_AGAIN = 3;

/** Below this nothing comes of a search but whether there is a plan at all. */
const LEAST_S = 0.2;

/** By the whole programme, begun from the plan that is known, in the time that is left when it has been written. */
function searched(highs: Highs, problem: DayProblem, options: SearchOptions, known: FoundPlan | null): DayPlan {
  const leftS = () => (options.endsAt - performance.now()) / 1000;
  if (known !== null && leftS() < LEAST_S) return known;
  const model = modelOfDay(problem);
  if (known !== null && leftS() < LEAST_S) return known;
  const start = known ? { start: model.standing(known.stays) } : {};
  const outcome = runModel(highs, model.text, { ...options, timeLimitS: Math.max(LEAST_S, leftS()), ...start });
  if (outcome.kind === 'impossible') {
    if (known === null) return impossible(highs, problem, options);
    throw new SolverError(`The solver holds for impossible what can be walked. ${FAULT}`);
  }
  const solved = outcome.kind === 'solution' ? planOf(problem, model.read(outcome.valueFor), outcome) : null;
  const better = solved === null || (known !== null && known.worth > solved.worth) ? known : solved;
  if (better === null) throw nothingFound(options);
  const bounds = [known?.bound, solved?.bound].filter((bound) => typeof bound === 'number');
  return bounds.length === 0 ? better : bounded(better, Math.min(...bounds));
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

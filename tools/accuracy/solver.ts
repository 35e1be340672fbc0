/**
 * The day's solver on invented days: whether its best plan is the best of all plans where all can be tried, and whether it is
 * ever worth less than a plan found by going through the day once (`greedyDay`, which the solver begins from and betters). The
 * second needs no proof, so the whole programme gets little time; how far the plans are from what is proved is printed.
 */
import { bigDay, tinyDay } from '../../demo/plan/manyDays.js';
import { boundOfDay, gapOf, greedyDay, worthOfPlan } from '../../src/core/plan/day/index.js';
import { bruteForce } from '../../src/core/plan/day/testing/bruteForce.js';
import { type Highs, startHighs } from '../../src/host/plan/solver/highs.js';
import { solveDay } from '../../src/host/plan/solver/solveDay.js';
import type { Figures } from '../figures.js';

const TINY_DAYS = 200;
const BIG_DAYS = 100;
const BIG_LIMIT_S = 0.9;
const NEAR = 0.01;
const SAME = 1e-6;

interface SolverAccuracy {
  readonly rows: readonly string[];
  readonly figures: Figures;
}

export async function solverAccuracy(): Promise<SolverAccuracy> {
  const highs = await startHighs();
  const tiny = tinyDays(highs);
  const big = bigDays(highs);
  return { rows: [...tiny.rows, ...big.rows], figures: { ...tiny.figures, ...big.figures } };
}

function tinyDays(highs: Highs): SolverAccuracy {
  const unlike: string[] = [];
  let impossible = 0;
  let undercut = 0;
  for (let seed = 1; seed <= TINY_DAYS; seed += 1) {
    const problem = tinyDay(seed);
    const tried = bruteForce(problem);
    const solved = solveDay(highs, problem, { gap: 0, timeLimitS: 60 });
    if (tried === null) impossible += 1;
    else if (boundOfDay(problem, { worth: tried.worth, gap: 0 }).bound < tried.worth - SAME) undercut += 1;
    const worth = solved.kind === 'plan' ? solved.worth : null;
    const isEqual = tried === null || worth === null ? tried === worth : Math.abs(tried.worth - worth) <= SAME;
    if (!isEqual)
      unlike.push(`day ${seed}: ${worth ?? 'impossible'}, all plans tried: ${tried?.worth ?? 'impossible'}`);
  }
  return {
    rows: [
      `${TINY_DAYS} tiny days, every plan tried; ${impossible} of them have wishes that collide`,
      ...unlike,
      `  the bound by prices lies below the best plan on ${undercut} of ${TINY_DAYS - impossible}`,
    ],
    figures: {
      'solver.equalsBruteForce': { value: TINY_DAYS - unlike.length, unit: `of ${TINY_DAYS} days`, better: 'higher' },
    },
  };
}

function bigDays(highs: Highs): SolverAccuracy {
  const below: string[] = [];
  let above = 0;
  let impossible = 0;
  let bySearch = 0;
  let unbounded = 0;
  const gaps: number[] = [];
  const gains: number[] = [];
  for (let seed = 1; seed <= BIG_DAYS; seed += 1) {
    const problem = bigDay(seed);
    const greedy = greedyDay(problem);
    const solved = solveDay(highs, problem, { gap: NEAR, timeLimitS: BIG_LIMIT_S });
    if (solved.kind === 'impossible') {
      impossible += 1;
      if (greedy !== null) below.push(`day ${seed}: said to be impossible, gone through once ${greedy.worth}`);
      continue;
    }
    if (solved.from === 'greedy') bySearch += 1;
    const judged = worthOfPlan(problem, solved.stays);
    const worth = judged.kind === 'worth' ? judged.worth : Number.NEGATIVE_INFINITY;
    if (greedy !== null && worth < greedy.worth - SAME)
      below.push(`day ${seed}: ${worth}, gone through once ${greedy.worth}`);
    if (greedy !== null && worth > greedy.worth + SAME) above += 1;
    const gap = gapOf(solved);
    if (gap !== null) gaps.push(gap);
    else unbounded += 1;
    if (greedy !== null) gains.push(worth / greedy.worth - 1);
  }
  const sorted = gaps.toSorted((a, b) => a - b);
  const percent = (share: number | undefined) => (share === undefined ? 'nothing' : `${(100 * share).toFixed(2)} %`);
  return {
    rows: [
      `${BIG_DAYS} big days (21 sessions in halves, 8 spots; two photographers, rests, wishes), at most about ${BIG_LIMIT_S} s each; ${impossible} impossible`,
      ...below,
      `  ${gaps.filter((gap) => gap <= NEAR).length} within 1 % of what is proved, ${unbounded} not bounded before the time was over; of the others half within ${percent(sorted[Math.floor(sorted.length / 2)])}, nine of ten within ${percent(sorted[Math.floor(sorted.length * 0.9)])}, the widest ${percent(sorted.at(-1))}`,
      `  above the plan found by going through the day once on ${above}, by ${percent(gains.reduce((sum, gain) => sum + gain, 0) / gains.length)} on average; ${bySearch} plans are the search's own, the rest the whole programme's`,
    ],
    figures: {
      'solver.belowGreedy': { value: below.length, unit: `of ${BIG_DAYS} days`, better: 'lower' },
    },
  };
}

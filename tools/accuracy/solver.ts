/**
 * The day's solver on invented days: whether its best plan is the best of all plans where all can be tried, and whether it is
 * ever worth less than a plan found by going through the day. What the solver itself finds is counted, not the better of both.
 */
import { bigDay, tinyDay } from '../../demo/plan/manyDays.js';
import { gapOf, greedyDay } from '../../src/core/plan/day/index.js';
import { bruteForce } from '../../src/core/plan/day/testing/bruteForce.js';
import { type Highs, startHighs } from '../../src/host/plan/solver/highs.js';
import { solveDay } from '../../src/host/plan/solver/solveDay.js';
import type { Figures } from '../figures.js';

const TINY_DAYS = 200;
const BIG_DAYS = 100;
const BIG_LIMIT_S = 5;
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
  for (let seed = 1; seed <= TINY_DAYS; seed += 1) {
    const problem = tinyDay(seed);
    const tried = bruteForce(problem);
    const solved = solveDay(highs, problem, { gap: 0, timeLimitS: 60 });
    if (tried === null) impossible += 1;
    const worth = solved.kind === 'plan' ? solved.worth : null;
    const isEqual = tried === null || worth === null ? tried === worth : Math.abs(tried.worth - worth) <= SAME;
    if (!isEqual)
      unlike.push(`day ${seed}: ${worth ?? 'impossible'}, all plans tried: ${tried?.worth ?? 'impossible'}`);
  }
  return {
    rows: [`${TINY_DAYS} tiny days, every plan tried; ${impossible} of them have wishes that collide`, ...unlike],
    figures: {
      'solver.equalsBruteForce': { value: TINY_DAYS - unlike.length, unit: `of ${TINY_DAYS} days`, better: 'higher' },
    },
  };
}

function bigDays(highs: Highs): SolverAccuracy {
  let below = 0;
  let atOnce = 0;
  let impossible = 0;
  const gaps: number[] = [];
  const gains: number[] = [];
  for (let seed = 1; seed <= BIG_DAYS; seed += 1) {
    const problem = bigDay(seed);
    const greedy = greedyDay(problem);
    const solved = solveDay(highs, problem, { gap: 0.01, timeLimitS: BIG_LIMIT_S });
    if (solved.kind === 'impossible') {
      impossible += 1;
      continue;
    }
    // Handed over only where the solver had less itself.
    if (solved.from === 'greedy') atOnce += 1;
    const found = greedy?.worth ?? 0;
    if (solved.worth < found - SAME) below += 1;
    gaps.push(gapOf(solved) ?? Number.POSITIVE_INFINITY);
    gains.push(solved.worth / Math.max(found, 1e-9) - 1);
  }
  const sorted = gaps.toSorted((a, b) => a - b);
  const percent = (share: number) => `${(100 * share).toFixed(2)} %`;
  return {
    rows: [
      `${BIG_DAYS} big days (21 sessions in halves, 8 spots; two photographers, rests, wishes), at most ${BIG_LIMIT_S} s each; ${impossible} impossible`,
      `  ${gaps.filter((gap) => gap <= 0.01).length} proved within 1 %, half within ${percent(sorted[Math.floor(sorted.length / 2)]!)}, the widest ${percent(sorted.at(-1)!)}`,
      `  worth ${percent(gains.reduce((sum, gain) => sum + gain, 0) / gains.length)} more than the plan found at once, on average; on ${atOnce} days that one was the better`,
    ],
    figures: {
      'solver.belowGreedy': { value: below + atOnce, unit: `of ${BIG_DAYS} days`, better: 'lower' },
    },
  };
}

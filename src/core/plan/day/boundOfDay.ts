/**
 * No plan of a day is worth more than this. Lagrangian relaxation (The Lagrangian Relaxation Method for Solving Integer Programming
 * Problems, Management Science 27(1), 1981): what ties the walk to what is seen in `modelOfDay` is given prices instead; then the
 * best walk at those prices is one pass through the network, and what is seen is best place by place. Every set of prices bounds
 * the day from above; they are lowered along the subgradient, each step towards the worth of a plan that is known. The bound is
 * that of the programme's relaxation when it has converged, at a small part of its time.
 */
import { type Row, tablesOf } from './dayTables.js';
import { relaxedDay } from './relaxedDay.js';
import { type ValuedDay, valuedDayOf } from './rows.js';
import type { DayProblem } from './types.js';

const STEPS = 3000;
/** Shares of the step to the known worth: at first, and the least that still moves anything. */
const LONG = 0.5;
const SHORT = 0.0005;
/** Steps without a better bound until they are made shorter. */
const PATIENCE = 50;
/** How much of the direction before goes on into the next: zigzags cancel out. */
const MEMORY = 0.8;
const ASKED_EVERY = 50;
const LEAST_GAIN = 1e-7;
const STANDING_STILL = 1e-12;

export interface BoundOptions {
  /** Of a plan that is known. */
  readonly worth: number;
  /** Share above it that is near enough. */
  readonly gap: number;
  /** Asked now and then, after some first steps: a rough bound is better than none. */
  readonly shouldStop?: () => boolean;
}

export interface BoundedDay {
  readonly bound: number;
  /** The best plan of the walks met on the way, where one keeps every wish and rests in time. */
  readonly met: ValuedDay | null;
}

export function boundOfDay(problem: DayProblem, { worth, gap, shouldStop }: BoundOptions): BoundedDay {
  const relaxed = relaxedDay(problem);
  const { prices, least, most } = relaxed;
  const meet = meeting(problem);
  const direction = new Float64Array(prices.length);
  const best = { bound: Number.POSITIVE_INFINITY, prices: prices.slice() };
  let known = worth;
  let long = LONG;
  let since = 0;
  for (let step = 0; step < STEPS && long > SHORT && best.bound > known + gap * Math.abs(known); step += 1) {
    if (step > 0 && step % ASKED_EVERY === 0 && shouldStop?.()) break;
    const { bound, slope, rows } = relaxed.at();
    known = Math.max(known, meet.see(rows));
    if (bound < best.bound - LEAST_GAIN * Math.abs(bound)) {
      best.bound = bound;
      best.prices.set(prices);
      since = 0;
    } else since += 1;
    if (since > PATIENCE) {
      long /= 2;
      since = 0;
      prices.set(best.prices);
      direction.fill(0);
      continue;
    }
    let square = 0;
    for (let i = 0; i < slope.length; i += 1) {
      direction[i] = MEMORY * direction[i]! + (1 - MEMORY) * slope[i]!;
      square += direction[i]! ** 2;
    }
    if (square < STANDING_STILL) break;
    const stride = (long * Math.max(bound - known, LEAST_GAIN)) / square;
    for (let i = 0; i < prices.length; i += 1)
      prices[i] = Math.min(most[i]!, Math.max(least[i]!, prices[i]! - stride * direction[i]!));
  }
  return { bound: best.bound, met: meet.best() };
}

/** Keeps the best of the plans that it sees. */
function meeting(problem: DayProblem): { see: (rows: readonly Row[]) => number; best: () => ValuedDay | null } {
  const tables = tablesOf(problem);
  let worth = Number.NEGATIVE_INFINITY;
  let kept: readonly Row[] | null = null;
  return {
    see: (rows) => {
      const cost = rows.reduce((sum, row, photographer) => sum + tables.costOf(row, photographer), 0);
      const here = tables.seenOf(rows) - cost;
      if (here > worth) {
        worth = here;
        kept = rows.map((row) => row.slice());
      }
      return worth;
    },
    best: () => (kept === null ? null : valuedDayOf(problem, kept)),
  };
}

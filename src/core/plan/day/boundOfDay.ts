/**
 * No plan of a day is worth more than this. Lagrangian relaxation (The Lagrangian Relaxation Method for Solving Integer Programming
 * Problems, Management Science 27(1), 1981): what ties the walk to what is seen in `modelOfDay` is given prices instead; then the
 * best walk at those prices is one pass through the network, and what is seen is best place by place. Every set of prices bounds
 * the day from above; they are lowered along the subgradient, each step towards the worth of a plan that is known. The bound is
 * that of the programme's relaxation when it has converged, at a small part of its time.
 */
import { relaxedDay } from './relaxedDay.js';
import type { DayProblem } from './types.js';

const STEPS = 1500;
/** Shares of the step to the known worth: at first, and the least that still moves anything. */
const LONG = 1;
const SHORT = 0.002;
/** Steps without a better bound until they are made shorter. */
const PATIENCE = 25;
/** How much of the direction before goes on into the next: zigzags cancel out. */
const MEMORY = 0.7;

export interface BoundOptions {
  /** Of a plan that is known. */
  readonly worth: number;
  /** Share above it that is near enough. */
  readonly gap: number;
}

export function boundOfDay(problem: DayProblem, { worth, gap }: BoundOptions): number {
  const relaxed = relaxedDay(problem);
  const { prices, least, most } = relaxed;
  const direction = new Float64Array(prices.length);
  const best = { bound: Number.POSITIVE_INFINITY, prices: prices.slice() };
  const enough = worth + gap * Math.abs(worth);
  let long = LONG;
  let since = 0;
  for (let step = 0; step < STEPS && long > SHORT && best.bound > enough; step += 1) {
    const { bound, slope } = relaxed.at();
    if (bound < best.bound - 1e-7 * Math.abs(bound)) {
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
    if (square < 1e-12) break;
    const stride = (long * Math.max(bound - worth, 1e-6)) / square;
    for (let i = 0; i < prices.length; i += 1)
      prices[i] = Math.min(most[i]!, Math.max(least[i]!, prices[i]! - stride * direction[i]!));
  }
  return best.bound;
}

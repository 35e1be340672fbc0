/**
 * Why nobody stands at a session, as far as the day's own reckoning tells: each run of sessions that go by is tried at every
 * spot beside the plan as it is, and what stands against it is named. Rule PL534.
 */
import type { AskedDay } from './problemOfDay.js';
import type { DayProblem, Stay, Stretch } from './types.js';
import { isMeant, type Judgement, worthOfPlan } from './worthOfPlan.js';

/** Less can be told from nothing by no eye. */
const NOTHING = 0.005;

/** By the session's name, a reason that ends a sentence. Stays are in the problem's own stretches. */
export function whyUnseen({ problem, leftOut }: AskedDay, stays: readonly Stay[]): ReadonlyMap<string, string> {
  const standing = stays.filter(({ spot }) => spot !== null);
  const reasons = new Map<string, string>();
  for (const run of unseenRuns(problem, standing)) {
    const words = problem.spots.length === 0 ? noSpot(leftOut) : reasonOf(problem, standing, run);
    for (const { slot } of run) reasons.set(slot, words);
  }
  return reasons;
}

const noSpot = (leftOut: AskedDay['leftOut']): string =>
  leftOut.length === 0
    ? 'the circuit has no spot to stand at'
    : `there is only ${leftOut.map(({ why }) => why).join('; ')}`;

/** Whole sessions that nobody stands at, in runs between stays and breaks. */
function unseenRuns(problem: DayProblem, standing: readonly Stay[]): Stretch[][] {
  const stood = new Set(standing.map(({ stretch }) => stretch));
  const seen = new Set(problem.stretches.filter(({ name }) => stood.has(name)).map(({ slot }) => slot));
  const runs: Stretch[][] = [];
  let before: Stretch | null = null;
  for (const stretch of problem.stretches) {
    const isUnseen = !seen.has(stretch.slot);
    const last = before;
    const goesOn =
      last !== null &&
      !seen.has(last.slot) &&
      wordsOfWishes(problem, last) === wordsOfWishes(problem, stretch) &&
      !problem.vanBreaks.some(({ from, to }) => from >= last.to && to <= stretch.from);
    if (isUnseen && goesOn) runs.at(-1)!.push(stretch);
    else if (isUnseen) runs.push([stretch]);
    before = stretch;
  }
  return runs;
}

/** What was wished that leaves nowhere to stand; null: there is somewhere. */
function wordsOfWishes(problem: DayProblem, stretch: Stretch): string | null {
  if (problem.wishes.some((wish) => wish.kind === 'rest' && isMeant(wish, stretch))) return 'a rest is wished then';
  return openSpots(problem, stretch).length === 0 ? 'every spot is closed then, or not wished' : null;
}

const openSpots = (problem: DayProblem, stretch: Stretch): DayProblem['spots'] =>
  problem.spots.filter(
    (spot) =>
      !problem.wishes.some(
        (wish) => (wish.kind === 'closed' || wish.kind === 'forbid') && wish.spot === spot && isMeant(wish, stretch),
      ),
  );

interface Tried {
  readonly spot: string;
  readonly brings: number;
  readonly costs: number;
}

function reasonOf(problem: DayProblem, standing: readonly Stay[], run: readonly Stretch[]): string {
  const wished = wordsOfWishes(problem, run[0]!);
  if (wished !== null) return wished;
  const base = worthOfPlan(problem, standing);
  if (base.kind === 'broken') return 'the plan does not stand there';
  const tried = triedAt(problem, standing, run, base);
  const best = tried.toSorted((a, b) => b.brings - b.costs - (a.brings - a.costs))[0];
  if (best === undefined) return whyNotWalked(problem, standing, run);
  if (best.brings <= NOTHING) return 'nothing is to be had then that counts: no light, or weighed as nothing';
  const weighed = `at ${best.spot} they would bring ${best.brings.toFixed(2)}`;
  if (best.brings > best.costs) return `${weighed}, more than the way costs, but the search ended before it`;
  return `${weighed}, and the way there and back costs ${best.costs.toFixed(2)}`;
}

/** The run as a whole, and each of its sessions alone, at each spot by each photographer. */
function triedAt(
  problem: DayProblem,
  standing: readonly Stay[],
  run: readonly Stretch[],
  base: Extract<Judgement, { readonly kind: 'worth' }>,
): readonly Tried[] {
  const alone = [...new Set(run.map(({ slot }) => slot))].map((slot) => run.filter((one) => one.slot === slot));
  const parts = alone.length > 1 ? [run, ...alone] : alone;
  return Array.from({ length: problem.photographers }, (_, photographer) => photographer).flatMap((photographer) =>
    parts.flatMap((part) =>
      problem.spots.flatMap((spot, i): readonly Tried[] => {
        const open = part.filter((stretch) => openSpots(problem, stretch).includes(spot));
        const more = open.map(({ name }): Stay => ({ photographer, stretch: name, spot }));
        const judged = more.length === 0 ? null : worthOfPlan(problem, [...standing, ...more]);
        if (judged?.kind !== 'worth') return [];
        const brings = judged.seen + judged.sides - base.seen - base.sides;
        return [{ spot: problem.spotNames[i]!, brings, costs: judged.ways - base.ways }];
      }),
    ),
  );
}

function whyNotWalked(problem: DayProblem, standing: readonly Stay[], run: readonly Stretch[]): string {
  const rested = { ...problem, rest: null };
  const base = worthOfPlan(rested, standing);
  if (base.kind === 'worth' && triedAt(rested, standing, run, base).length > 0)
    return `a rest falls there: no more than ${problem.rest!.afterMinutes} min are gone without one`;
  const name = (stay: Stay | undefined) => problem.spotNames[problem.spots.indexOf(stay?.spot ?? ('' as never))];
  const placed = standing.toSorted((a, b) => fromOf(problem, a) - fromOf(problem, b));
  const before = name(placed.findLast((stay) => fromOf(problem, stay) < run[0]!.from));
  const after = name(placed.find((stay) => fromOf(problem, stay) > run[0]!.from));
  return before !== undefined && after !== undefined && before !== after
    ? `the way from ${before} to ${after} takes them`
    : 'from where the plan stands there is no way in the time';
}

const fromOf = ({ stretches }: DayProblem, { stretch }: Stay): number =>
  stretches.find(({ name }) => name === stretch)?.from ?? 0;

/**
 * A plan at once: going through the day, the best walk to each spot is kept and led on from there. One photographer after the
 * other. Good, never proved: the best walk to a spot need not be the beginning of the best day.
 */
import { legBetween, minutesOf, type Standing } from './legs.js';
import type { DayProblem, Stay } from './types.js';
import { DAY_END, isMeant, startOf, worthOfPlan } from './worthOfPlan.js';

interface Walk {
  readonly before: Walk | null;
  readonly stretch: number;
  readonly spot: number;
  readonly worth: number;
  /** First stretch since the last rest. */
  readonly runFrom: number;
}

/** A wish outranks every value. */
const WISHED = 1000;

/** Null: none found that keeps all wishes. There may be one. */
export function greedyDay(problem: DayProblem): { readonly stays: readonly Stay[]; readonly worth: number } | null {
  const taken: Walk[] = [];
  const stays: Stay[] = [];
  for (let photographer = 0; photographer < problem.photographers; photographer += 1) {
    const walk = bestWalk(problem, photographer, taken);
    const stands = standsOf(walk);
    taken.push(...stands);
    for (const [i, { name }] of problem.stretches.entries()) {
      const stand = stands.find(({ stretch }) => stretch === i);
      stays.push({ photographer, stretch: name, spot: stand ? problem.spots[stand.spot]! : null });
    }
  }
  const judged = worthOfPlan(problem, stays);
  return judged.kind === 'worth' ? { stays, worth: judged.worth } : null;
}

const standsOf = (walk: Walk | null): Walk[] => (walk === null ? [] : [...standsOf(walk.before), walk]);

function bestWalk(problem: DayProblem, photographer: number, taken: readonly Walk[]): Walk | null {
  const start = startOf(problem, photographer);
  const kept: Walk[] = [];
  let best: Walk | null = null;
  let bestWorth = legBetween(problem, start, DAY_END) === null ? Number.NEGATIVE_INFINITY : 0;
  for (const stretch of problem.stretches.keys())
    for (const spot of problem.spots.keys()) {
      if (!mayStand(problem, stretch, spot)) continue;
      for (const walk of bestTo(problem, start, kept, stretch, spot, taken)) {
        kept.push(walk);
        const home = legBetween(problem, endOf(problem, walk), DAY_END);
        if (home === null || walk.worth - home.cost <= bestWorth) continue;
        best = walk;
        bestWorth = walk.worth - home.cost;
      }
    }
  return best;
}

const mayStand = (problem: DayProblem, stretch: number, spot: number): boolean =>
  !problem.wishes.some(
    (wish) =>
      wish.kind !== 'pin' &&
      isMeant(wish, problem.stretches[stretch]!) &&
      (wish.kind === 'rest' || wish.spot === problem.spots[spot]),
  );

const endOf = ({ stretches }: DayProblem, { stretch, spot }: Walk): Standing => ({
  place: spot,
  atMinute: minutesOf(stretches[stretch]!.to),
});

/** The best walk to here, and the best that comes here rested: it can go on for longer. */
function bestTo(
  problem: DayProblem,
  start: Standing,
  kept: readonly Walk[],
  stretch: number,
  spot: number,
  taken: readonly Walk[],
): Walk[] {
  const here: Standing = { place: spot, atMinute: minutesOf(problem.stretches[stretch]!.from) };
  const tired = { walk: null as Walk | null };
  const rested = { walk: null as Walk | null };
  const most = mostGain(problem, stretch, spot);
  const consider = (before: Walk | null, from: Standing) => {
    const leg = legBetween(problem, from, here);
    if (leg === null) return;
    const isRested = before === null || (problem.rest !== null && leg.freeMinutes >= problem.rest.leastMinutes);
    const runFrom = isRested ? stretch : before.runFrom;
    if (isTooLong(problem, runFrom, stretch)) return;
    const slot = isRested ? rested : tired;
    if (slot.walk !== null && (before?.worth ?? 0) + most - leg.cost <= slot.walk.worth) return;
    const gained = gainOf(problem, [...taken, ...standsOf(before)], stretch, spot);
    const walk = { before, stretch, spot, worth: (before?.worth ?? 0) + gained - leg.cost, runFrom };
    if (slot.walk === null || walk.worth > slot.walk.worth) slot.walk = walk;
  };
  consider(null, start);
  for (const walk of kept) if (walk.stretch < stretch) consider(walk, endOf(problem, walk));
  return [tired.walk, rested.walk].filter((walk) => walk !== null);
}

const isTooLong = ({ rest, stretches }: DayProblem, first: number, last: number): boolean =>
  rest !== null && minutesOf(stretches[last]!.to - stretches[first]!.from) > rest.afterMinutes;

/** What one more stand adds to what is seen. */
function gainOf(problem: DayProblem, stands: readonly Walk[], stretch: number, spot: number): number {
  if (stands.some((stand) => stand.stretch === stretch && stand.spot === spot)) return 0;
  const { group } = problem.stretches[stretch]!;
  const ofGroup = stands.filter((stand) => problem.stretches[stand.stretch]!.group === group);
  const before = [
    ...problem.had.filter((had) => had.group === group && had.spot === problem.spots[spot]).map(({ worth }) => worth),
    ...ofGroup.filter((stand) => stand.spot === spot).map((stand) => problem.worth[stand.stretch]![spot]!),
  ];
  const seen = shared(problem, [...before, problem.worth[stretch]![spot]!]) - shared(problem, before);
  const wished = isPinned(problem, stretch, spot) ? WISHED : 0;
  return seen + problem.besides[stretch]![spot]! + sidesGain(problem, group, ofGroup, spot) + wished;
}

const isPinned = ({ wishes, spots, stretches }: DayProblem, stretch: number, spot: number): boolean =>
  wishes.some((wish) => wish.kind === 'pin' && wish.spot === spots[spot] && isMeant(wish, stretches[stretch]!));

/** Whatever was seen before, one more stand adds no more: what cannot win need not be counted. */
function mostGain(problem: DayProblem, stretch: number, spot: number): number {
  const sides = problem.bothSides[problem.stretches[stretch]!.group] ?? 0;
  const wished = isPinned(problem, stretch, spot) ? WISHED : 0;
  const seen = problem.worth[stretch]![spot]! * (problem.returns[0] ?? 0) + problem.besides[stretch]![spot]!;
  return Math.max(0, seen + sides + wished) + ROUNDING;
}

const ROUNDING = 1e-9;

const shared = ({ returns }: DayProblem, worths: number[]): number =>
  worths.sort((a, b) => b - a).reduce((sum, worth, i) => sum + worth * (returns[i] ?? 0), 0);

function sidesGain(problem: DayProblem, group: string, ofGroup: readonly Walk[], spot: number): number {
  const sides = new Set([
    ...ofGroup.map((stand) => problem.sides[stand.spot]),
    ...problem.had.filter((had) => had.group === group).map((had) => problem.sides[problem.spots.indexOf(had.spot)]),
  ]);
  const hasBoth = () => sides.has('left') && sides.has('right');
  if (hasBoth()) return 0;
  sides.add(problem.sides[spot] ?? null);
  return hasBoth() ? (problem.bothSides[group] ?? 0) : 0;
}

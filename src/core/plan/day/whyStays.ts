/** Why a plan stands where it stands: what each stay brings, and of what that is made. */
import { minutesOf } from './legs.js';
import type { AskedDay } from './problemOfDay.js';
import type { DayPlan, DayProblem, FoundPlan, Stay } from './types.js';
import { isMeant, seenBy } from './worthOfPlan.js';
import type { WorthPart } from './worthOfStretch.js';

export interface WhyStay {
  readonly stay: Stay;
  /** What the plan would see less without it, everything else left as it is. */
  readonly brings: number;
  /** Its rank among the group's times here, by worth: 1 is the best, whenever it is. */
  readonly rank: number;
  readonly parts: readonly WorthPart[];
  readonly words: string;
}

export function whyStays({ problem, parts, everyTime }: AskedDay, stays: readonly Stay[]): WhyStay[] {
  const all = seenBy(problem, stays);
  return stays.flatMap((stay): WhyStay[] => {
    const spot = stay.spot === null ? -1 : problem.spots.indexOf(stay.spot);
    const stretch = problem.stretches.findIndex(({ name }) => name === stay.stretch);
    if (spot < 0 || stretch < 0) return [];
    const brings =
      all -
      seenBy(
        problem,
        stays.filter((each) => each !== stay),
      );
    const [rank, of] = rankOf(problem, stays, stretch, spot);
    const own = parts[stretch]![spot]!;
    const share = (problem.returns[rank - 1] ?? 0) + everyTime;
    const nth = wordsOf(problem.stretches[stretch]!.group, [rank, of], share);
    return [{ stay, brings, rank, parts: own, words: [nth, ...own.map(({ words }) => words)].join('; ') }];
  });
}

function rankOf(
  problem: DayProblem,
  stays: readonly Stay[],
  stretch: number,
  spot: number,
): readonly [rank: number, of: number] {
  const { group } = problem.stretches[stretch]!;
  const own = problem.worth[stretch]![spot]!;
  const isBefore = (worth: number, i: number) => worth > own || (worth === own && i < stretch);
  const others = new Set(stays.filter((stay) => stay.spot === problem.spots[spot]).map((stay) => stay.stretch));
  const better = problem.stretches.filter(
    ({ name, group: its }, i) => its === group && others.has(name) && isBefore(problem.worth[i]![spot]!, i),
  );
  const had = problem.had.filter((each) => each.group === group && each.spot === problem.spots[spot]);
  const all = problem.stretches.filter(({ name, group: its }) => its === group && others.has(name));
  return [better.length + had.filter(({ worth }) => worth >= own).length + 1, all.length + had.length];
}

const RANKS = ['', 'second ', 'third ', 'fourth ', 'fifth ', 'sixth ', 'seventh ', 'eighth ', 'ninth ', 'tenth '];

function wordsOf(group: string, [rank, of]: readonly [rank: number, of: number], share: number): string {
  const counted = Math.round(share * 100);
  const counts = counted === 100 ? '' : `, counts ${counted} of 100`;
  const place = of === 1 ? 'the only time here' : `the ${RANKS[rank - 1] ?? `${rank}th `}best of ${of} times here`;
  return `${group}, ${place}${counts}`;
}

/** The same day without this stay: its best plan is the next best answer there. A pin that asks for it is left out. */
export function dayWithout(problem: DayProblem, { stretch, spot }: Stay): DayProblem {
  if (spot === null) throw new Error(`Expected a stay at a spot but got one on the way in ${stretch}.`);
  const meant = problem.stretches.find(({ name }) => name === stretch);
  const asksForIt = (wish: DayProblem['wishes'][number]) =>
    wish.kind === 'pin' && wish.spot === spot && meant !== undefined && isMeant(wish, meant);
  const forbidden = { kind: 'forbid', stretch, spot } as const;
  return { ...problem, wishes: [...problem.wishes.filter((wish) => !asksForIt(wish)), forbidden] };
}

export interface NextBest {
  /** Where one would be instead; null: on the way, or resting. */
  readonly spot: Stay['spot'];
  /** Both plans are only known within their bounds. */
  readonly costs: readonly [least: number, most: number | null];
  readonly sentence: string;
}

export function nextBest(problem: DayProblem, plan: FoundPlan, stay: Stay, without: DayPlan): NextBest | null {
  if (without.kind === 'impossible') return null;
  const spot =
    without.stays.find((each) => each.photographer === stay.photographer && each.stretch === stay.stretch)?.spot ??
    null;
  const most = plan.bound === null ? null : Math.max(0, plan.bound - without.worth);
  const least = without.bound === null ? 0 : Math.max(0, plan.worth - without.bound);
  const name = (id: Stay['spot']) => (id === null ? 'none' : problem.spotNames[problem.spots.indexOf(id)]!);
  const cost = Math.max(0, plan.worth - without.worth);
  const share = (100 * cost) / Math.max(plan.worth, 1e-9);
  const instead = spot === null ? 'being on the way or resting' : name(spot);
  const costs =
    share < 0.05
      ? 'nothing that could be told'
      : `${cost.toFixed(2)} of ${plan.worth.toFixed(2)} (${share.toFixed(1)} %)`;
  return {
    spot,
    costs: [least, most],
    sentence: `Without ${name(stay.spot)} in ${stay.stretch} the best is ${instead} then; over the day it costs ${costs}.`,
  };
}

/** Minutes of sessions that each group loses to ways and rests: whom the walks cost. */
export function minutesLost(problem: DayProblem, stays: readonly Stay[]): ReadonlyMap<string, number> {
  const lost = new Map<string, number>();
  for (const stretch of problem.stretches) {
    if (stays.some((stay) => stay.stretch === stretch.name && stay.spot !== null)) continue;
    lost.set(stretch.group, (lost.get(stretch.group) ?? 0) + minutesOf(stretch.to - stretch.from));
  }
  return lost;
}

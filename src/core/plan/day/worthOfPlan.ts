/**
 * What a plan is worth, counted from its stays alone: nothing here knows how plans are found. Says in sentences where a plan
 * cannot be walked or goes against a wish.
 */
import { type Leg, legBetween, minutesOf, type Place, type Standing } from './legs.js';
import type { DayProblem, Stay } from './types.js';

export type Judgement =
  | {
      readonly kind: 'worth';
      readonly worth: number;
      readonly seen: number;
      readonly sides: number;
      readonly ways: number;
    }
  | { readonly kind: 'broken'; readonly sentences: readonly string[] };

interface Stand {
  readonly stretch: number;
  readonly spot: number;
}

export function worthOfPlan(problem: DayProblem, stays: readonly Stay[]): Judgement {
  const rows = standsOf(problem, stays);
  const walks = rows.map((row, photographer) => walk(problem, row, photographer));
  const sentences = [...walks.flatMap((each) => each.sentences), ...brokenWishes(problem, rows.flat())];
  if (sentences.length > 0) return { kind: 'broken', sentences };
  const seen = seenWorth(problem, rows.flat());
  const sides = sidesWorth(problem, rows.flat());
  const ways = walks.reduce((sum, each) => sum + each.cost, 0);
  return { kind: 'worth', worth: seen + sides - ways, seen, sides, ways };
}

/** One row a photographer, in order of time. */
function standsOf(problem: DayProblem, stays: readonly Stay[]): Stand[][] {
  const rows: Stand[][] = Array.from({ length: problem.photographers }, () => []);
  for (const { photographer, stretch, spot } of stays) {
    if (spot === null) continue;
    const stand = { stretch: indexOfStretch(problem, stretch), spot: problem.spots.indexOf(spot) };
    if (stand.stretch < 0 || stand.spot < 0 || rows[photographer] === undefined)
      throw new Error(`Expected a stay of this day but got photographer ${photographer} at ${spot} in ${stretch}.`);
    rows[photographer].push(stand);
  }
  for (const row of rows) row.sort((a, b) => a.stretch - b.stretch);
  return rows;
}

const indexOfStretch = (problem: DayProblem, name: string): number =>
  problem.stretches.findIndex((stretch) => stretch.name === name);

interface Walk {
  readonly cost: number;
  readonly sentences: readonly string[];
}

function walk(problem: DayProblem, row: readonly Stand[], photographer: number): Walk {
  const sentences: string[] = [];
  const ends = [startOf(problem, photographer), ...row.map((stand) => endOf(problem, stand))];
  const begins = [...row.map((stand) => beginOf(problem, stand)), DAY_END];
  const legs = ends.map((end, i): Leg | null => legBetween(problem, end, begins[i]!));
  for (const [i, leg] of legs.entries()) {
    if (leg === null) sentences.push(noWay(problem, row[i - 1], row[i]));
  }
  sentences.push(...tooLongRuns(problem, row, legs));
  return { cost: legs.reduce((sum, leg) => sum + (leg?.cost ?? 0), 0), sentences };
}

export const DAY_END: Standing = { place: 'van', atMinute: Number.POSITIVE_INFINITY };

export function startOf(problem: DayProblem, photographer: number): Standing {
  if (problem.start === null) return { place: 'van', atMinute: Number.NEGATIVE_INFINITY };
  const spot = problem.start.places[photographer] ?? null;
  const place: Place = spot === null ? 'van' : problem.spots.indexOf(spot);
  return { place, atMinute: minutesOf(problem.start.at) };
}

const beginOf = (problem: DayProblem, { stretch, spot }: Stand): Standing => ({
  place: spot,
  atMinute: minutesOf(problem.stretches[stretch]!.from),
});

const endOf = (problem: DayProblem, { stretch, spot }: Stand): Standing => ({
  place: spot,
  atMinute: minutesOf(problem.stretches[stretch]!.to),
});

function noWay(problem: DayProblem, from: Stand | undefined, to: Stand | undefined): string {
  const place = (stand: Stand | undefined, none: string) =>
    stand
      ? `${problem.spotNames[stand.spot] ?? problem.spots[stand.spot]} in ${problem.stretches[stand.stretch]!.name}`
      : none;
  return `From ${place(from, 'where the plan begins')} to ${place(to, 'the van')} there is no way in the time; go later or leave one out.`;
}

/** From the first stretch after a rest to the last before the next. */
function tooLongRuns(problem: DayProblem, row: readonly Stand[], legs: readonly (Leg | null)[]): string[] {
  const { rest } = problem;
  if (rest === null) return [];
  const sentences: string[] = [];
  let since = 0;
  for (const [i, stand] of row.entries()) {
    if ((legs[i]?.freeMinutes ?? 0) >= rest.leastMinutes) since = i;
    const first = problem.stretches[row[since]!.stretch]!;
    const last = problem.stretches[stand.stretch]!;
    const minutes = minutesOf(last.to - first.from);
    if (minutes <= rest.afterMinutes) continue;
    sentences.push(
      `From ${first.name} to ${last.name} are ${minutes} min without a rest; at most ${rest.afterMinutes} are wanted.`,
    );
  }
  return sentences;
}

function brokenWishes(problem: DayProblem, stands: readonly Stand[]): string[] {
  return problem.wishes.flatMap((wish): string[] => {
    const stretches = problem.stretches.flatMap((stretch, i) => (isMeant(wish, stretch) ? [i] : []));
    const there = (i: number) =>
      stands.some(({ stretch, spot }) => stretch === i && (wish.kind === 'rest' || problem.spots[spot] === wish.spot));
    return stretches.flatMap((i) => {
      const { name } = problem.stretches[i]!;
      const spot = wish.kind === 'rest' ? '' : nameOf(problem, wish.spot);
      if (wish.kind === 'pin') return there(i) ? [] : [`Nobody is at ${spot} in ${name}, as was wished.`];
      if (!there(i)) return [];
      return [wish.kind === 'rest' ? `A rest was wished in ${name}.` : `Nobody may be at ${spot} in ${name}.`];
    });
  });
}

/** As people call it. */
const nameOf = ({ spots, spotNames }: DayProblem, spot: DayProblem['spots'][number]): string =>
  spotNames[spots.indexOf(spot)] ?? spot;

export function isMeant(wish: DayProblem['wishes'][number], stretch: DayProblem['stretches'][number]): boolean {
  if (wish.kind === 'pin' || wish.kind === 'forbid')
    return wish.stretch === stretch.name || wish.stretch === stretch.slot;
  return wish.from < stretch.to && wish.to > stretch.from;
}

/** What stays see, whether or not they can be walked. */
export function seenBy(problem: DayProblem, stays: readonly Stay[]): number {
  const stands = standsOf(problem, stays).flat();
  return seenWorth(problem, stands) + sidesWorth(problem, stands);
}

/** Two photographers at one spot see what one would. */
function seenWorth(problem: DayProblem, stands: readonly Stand[]): number {
  const once = [...new Map(stands.map((stand) => [`${stand.stretch} ${stand.spot}`, stand])).values()];
  const worths = new Map<string, number[]>();
  const add = (group: string, spot: number, worth: number) => {
    const key = `${group} ${spot}`;
    worths.set(key, [...(worths.get(key) ?? []), worth]);
  };
  for (const { group, spot, worth } of problem.had) add(group, problem.spots.indexOf(spot), worth);
  let sum = 0;
  for (const { stretch, spot } of once) {
    add(problem.stretches[stretch]!.group, spot, problem.worth[stretch]![spot]!);
    sum += problem.besides[stretch]![spot]!;
  }
  for (const list of worths.values()) {
    list
      .sort((a, b) => b - a)
      .forEach((worth, i) => {
        sum += worth * (problem.returns[i] ?? 0);
      });
  }
  return sum;
}

function sidesWorth(problem: DayProblem, stands: readonly Stand[]): number {
  const seen = new Set<string>();
  for (const { group, spot } of problem.had) seen.add(`${group} ${problem.sides[problem.spots.indexOf(spot)]}`);
  for (const { stretch, spot } of stands) seen.add(`${problem.stretches[stretch]!.group} ${problem.sides[spot]}`);
  return Object.entries(problem.bothSides).reduce(
    (sum, [group, worth]) => sum + (seen.has(`${group} left`) && seen.has(`${group} right`) ? worth : 0),
    0,
  );
}

/** A day's problem as plain arrays, for searches that judge plans by the hundred thousand. `worthOfPlan` is what they are checked by. */
import { type Leg, legBetween, minutesOf, type Standing } from './legs.js';
import type { DayProblem } from './types.js';
import { DAY_END, isMeant, startOf } from './worthOfPlan.js';

/** Spots of one photographer by stretch; −1 is none. */
export type Row = Int8Array;

export interface DayTables {
  readonly stretches: number;
  readonly spots: number;
  readonly photographers: number;
  readonly mayStand: (stretch: number, spot: number) => boolean;
  /** What one row costs in ways; infinite: it cannot be walked, or nobody rests in time. */
  readonly costOf: (row: Row, photographer: number) => number;
  /** Whether there is a way from one stand to another; −1 is the start, and after the last stretch the end. */
  readonly isWay: (photographer: number, from: number, fromSpot: number, to: number, toSpot: number) => boolean;
  /** What all rows see. A pin that is not kept costs more than a day can be worth. */
  readonly seenOf: (rows: readonly Row[]) => number;
}

/** A wish outranks every value. */
export const WISHED = 1000;

export function tablesOf(problem: DayProblem): DayTables {
  const stretches = problem.stretches.length;
  const spots = problem.spots.length;
  const may = problem.stretches.map((_, stretch) => problem.spots.map((__, spot) => isAllowed(problem, stretch, spot)));
  const legOf = rememberedLegs(problem);
  return {
    stretches,
    spots,
    photographers: problem.photographers,
    mayStand: (stretch, spot) => may[stretch]![spot]!,
    isWay: (photographer, from, fromSpot, to, toSpot) => legOf(photographer, from, fromSpot, to, toSpot) !== null,
    costOf: (row, photographer) => costOf(problem, row, (...leg) => legOf(photographer, ...leg)),
    seenOf: seenWith(problem),
  };
}

const isAllowed = (problem: DayProblem, stretch: number, spot: number): boolean =>
  !problem.wishes.some(
    (wish) =>
      wish.kind !== 'pin' &&
      isMeant(wish, problem.stretches[stretch]!) &&
      (wish.kind === 'rest' || wish.spot === problem.spots[spot]),
  );

type LegOf = (from: number, fromSpot: number, to: number, toSpot: number) => Leg | null;

function rememberedLegs(problem: DayProblem): (photographer: number, ...leg: Parameters<LegOf>) => Leg | null {
  const spots = problem.spots.length;
  const places = (problem.stretches.length + 1) * spots;
  const known: (Leg | null | undefined)[] = [];
  const begins = (stretch: number, spot: number): Standing =>
    stretch === problem.stretches.length
      ? DAY_END
      : { place: spot, atMinute: minutesOf(problem.stretches[stretch]!.from) };
  const ends = (photographer: number, stretch: number, spot: number): Standing =>
    stretch < 0 ? startOf(problem, photographer) : { place: spot, atMinute: minutesOf(problem.stretches[stretch]!.to) };
  return (photographer, from, fromSpot, to, toSpot) => {
    const row = from < 0 ? photographer : problem.photographers + from * spots + fromSpot;
    const key = row * places + to * spots + toSpot;
    const remembered = known[key];
    if (remembered !== undefined) return remembered;
    const leg = legBetween(problem, ends(photographer, from, fromSpot), begins(to, toSpot));
    known[key] = leg;
    return leg;
  };
}

function costOf({ stretches, rest }: DayProblem, row: Row, legOf: LegOf): number {
  let cost = 0;
  let from = -1;
  let since = 0;
  for (let to = 0; to <= row.length; to += 1) {
    const spot = to === row.length ? 0 : row[to]!;
    if (spot < 0) continue;
    const leg = legOf(from, from < 0 ? 0 : row[from]!, to, spot);
    if (leg === null) return Number.POSITIVE_INFINITY;
    cost += leg.cost;
    if (rest !== null && to < row.length) {
      if (from < 0 || leg.freeMinutes >= rest.leastMinutes) since = to;
      if (minutesOf(stretches[to]!.to - stretches[since]!.from) > rest.afterMinutes) return Number.POSITIVE_INFINITY;
    }
    from = to;
  }
  return cost;
}

interface Cell {
  readonly spot: number;
  /** Stretches of the group, the most worth here first; those had already have none. */
  readonly order: readonly { readonly stretch: number; readonly worth: number }[];
}

function seenWith(problem: DayProblem): DayTables['seenOf'] {
  const { returns, besides, spots, sides } = problem;
  const groups = [...new Set([...problem.stretches, ...problem.had].map(({ group }) => group))];
  const cells = groups.flatMap((group) => spots.map((_, spot) => cellOf(problem, group, spot)));
  const own = groups.map((group) => [...problem.stretches.keys()].filter((i) => problem.stretches[i]!.group === group));
  const hadSides = groups.map(
    (group) => (side: 'left' | 'right') =>
      problem.had.some((had) => had.group === group && sides[spots.indexOf(had.spot)] === side),
  );
  const pins = problem.wishes.flatMap((wish) =>
    wish.kind === 'pin'
      ? [...problem.stretches.keys()]
          .filter((i) => isMeant(wish, problem.stretches[i]!))
          .map((stretch) => stretch * spots.length + spots.indexOf(wish.spot))
      : [],
  );
  const stood = new Uint8Array(problem.stretches.length * spots.length);
  const isSeenFrom = (group: number, side: 'left' | 'right'): boolean =>
    hadSides[group]!(side) ||
    own[group]!.some((i) => spots.some((_, s) => sides[s] === side && stood[i * spots.length + s] === 1));
  return (rows) => {
    stood.fill(0);
    let sum = 0;
    for (const row of rows)
      for (let i = 0; i < row.length; i += 1) {
        const at = i * spots.length + row[i]!;
        if (row[i]! < 0 || stood[at] === 1) continue;
        stood[at] = 1;
        sum += besides[i]![row[i]!]!;
      }
    for (const { spot, order } of cells) {
      let place = 0;
      for (const { stretch, worth } of order) {
        if (stretch >= 0 && stood[stretch * spots.length + spot] === 0) continue;
        sum += worth * (returns[place] ?? 0);
        place += 1;
      }
    }
    for (const [g, group] of groups.entries()) {
      const both = problem.bothSides[group] ?? 0;
      if (both !== 0 && isSeenFrom(g, 'left') && isSeenFrom(g, 'right')) sum += both;
    }
    for (const at of pins) if (stood[at] === 0) sum -= WISHED;
    return sum;
  };
}

function cellOf({ stretches, had, spots, worth }: DayProblem, group: string, spot: number): Cell {
  const seen = had.filter((each) => each.group === group && each.spot === spots[spot]);
  const own = [...stretches.keys()].filter((i) => stretches[i]!.group === group);
  const order = [
    ...seen.map((each) => ({ stretch: -1, worth: each.worth })),
    ...own.map((stretch) => ({ stretch, worth: worth[stretch]![spot]! })),
  ];
  return { spot, order: order.sort((a, b) => b.worth - a.worth) };
}

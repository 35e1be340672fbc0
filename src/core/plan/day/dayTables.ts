/** A day's problem as plain arrays, for searches that judge plans by the hundred thousand. `worthOfPlan` is what they are checked by. */
import { groupsOf, pinsOf } from './cells.js';
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
const WISHED = 1000;

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

/** Left and right as bits. */
const SIDES = { left: 1, right: 2 } as const;
const BOTH = 3;

function seenWith(problem: DayProblem): DayTables['seenOf'] {
  const { returns, spots, stretches } = problem;
  const groups = groupsOf(problem);
  const groupOf = Int32Array.from(stretches, ({ group }) => groups.indexOf(group));
  const sideOf = Uint8Array.from(problem.sides, (side) => (side === null ? 0 : SIDES[side]));
  const besides = Float64Array.from(problem.besides.flat());
  const both = Float64Array.from(groups, (group) => problem.bothSides[group] ?? 0);
  const hadSides = Uint8Array.from(groups, (group) =>
    problem.had.reduce((bits, had) => (had.group === group ? bits | sideOf[spots.indexOf(had.spot)]! : bits), 0),
  );
  const cells = groups.flatMap((group) => spots.map((_, spot) => cellOf(problem, group, spot)));
  const pins = pinsOf(problem);
  const stood = new Uint8Array(stretches.length * spots.length);
  const seenSides = new Uint8Array(groups.length);
  return (rows) => {
    stood.fill(0);
    seenSides.set(hadSides);
    let sum = 0;
    for (const row of rows)
      for (let i = 0; i < row.length; i += 1) {
        const at = i * spots.length + row[i]!;
        if (row[i]! < 0 || stood[at] === 1) continue;
        stood[at] = 1;
        sum += besides[at]!;
        seenSides[groupOf[i]!]! |= sideOf[row[i]!]!;
      }
    for (const { at, worth } of cells) {
      let place = 0;
      for (let i = 0; i < at.length && place < returns.length; i += 1) {
        if (at[i]! >= 0 && stood[at[i]!] === 0) continue;
        sum += worth[i]! * returns[place]!;
        place += 1;
      }
    }
    for (let group = 0; group < both.length; group += 1) if (seenSides[group] === BOTH) sum += both[group]!;
    for (const at of pins) if (stood[at] === 0) sum -= WISHED;
    return sum;
  };
}

interface Cell {
  /** Where the group may be seen from this spot, the most worth first; −1 was had already. */
  readonly at: Int32Array;
  readonly worth: Float64Array;
}

function cellOf({ stretches, had, spots, worth }: DayProblem, group: string, spot: number): Cell {
  const seen = had.filter((each) => each.group === group && each.spot === spots[spot]);
  const own = [...stretches.keys()].filter((i) => stretches[i]!.group === group);
  const order = [
    ...seen.map((each) => ({ at: -1, worth: each.worth })),
    ...own.map((i) => ({ at: i * spots.length + spot, worth: worth[i]![spot]! })),
  ].sort((a, b) => b.worth - a.worth);
  return { at: Int32Array.from(order, (each) => each.at), worth: Float64Array.from(order, (each) => each.worth) };
}

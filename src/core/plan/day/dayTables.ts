/** A day's problem as plain arrays, for searches that judge plans by the hundred thousand. `worthOfPlan` is what they are checked by. */
import { groupsOf, pinsOf } from './cells.js';
import { legBetween, minutesOf, type Standing } from './legs.js';
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
  /** The same, kept in mind while one row after the other is changed. */
  readonly seeing: (rows: readonly Row[]) => Seeing;
}

/** A change hits few groups at few spots: only those are counted anew. */
export interface Seeing {
  readonly value: () => number;
  readonly change: (was: Row, is: Row) => void;
}

/** A wish outranks every value. */
const WISHED = 1000;

export function tablesOf(problem: DayProblem): DayTables {
  const stretches = problem.stretches.length;
  const spots = problem.spots.length;
  const may = problem.stretches.map((_, stretch) => problem.spots.map((__, spot) => isAllowed(problem, stretch, spot)));
  const legs = rememberedLegs(problem);
  const places = placesOf(problem);
  return {
    stretches,
    spots,
    photographers: problem.photographers,
    mayStand: (stretch, spot) => may[stretch]![spot]!,
    isWay: (...leg) => legs.cost[legs.at(...leg)]! < Number.POSITIVE_INFINITY,
    costOf: costing(problem, legs),
    seenOf: (rows) => seeingOf(places, rows).value(),
    seeing: (rows) => seeingOf(places, rows),
  };
}

const isAllowed = (problem: DayProblem, stretch: number, spot: number): boolean =>
  !problem.wishes.some(
    (wish) =>
      wish.kind !== 'pin' &&
      isMeant(wish, problem.stretches[stretch]!) &&
      (wish.kind === 'rest' || wish.spot === problem.spots[spot]),
  );

/** Legs by number, worked out when they are first asked for; a cost without end: there is no way. */
interface Legs {
  readonly cost: Float64Array;
  readonly freeMinutes: Float64Array;
  /** −1 from is the start, and after the last stretch the end. */
  readonly at: (photographer: number, from: number, fromSpot: number, to: number, toSpot: number) => number;
}

function rememberedLegs(problem: DayProblem): Legs {
  const spots = problem.spots.length;
  const stretches = problem.stretches.length;
  const places = (stretches + 1) * spots;
  const count = (problem.photographers + stretches * spots) * places;
  const cost = new Float64Array(count).fill(Number.NaN);
  const freeMinutes = new Float64Array(count);
  const begins = (stretch: number, spot: number): Standing =>
    stretch === stretches ? DAY_END : { place: spot, atMinute: minutesOf(problem.stretches[stretch]!.from) };
  const ends = (photographer: number, stretch: number, spot: number): Standing =>
    stretch < 0 ? startOf(problem, photographer) : { place: spot, atMinute: minutesOf(problem.stretches[stretch]!.to) };
  const at: Legs['at'] = (photographer, from, fromSpot, to, toSpot) => {
    const row = from < 0 ? photographer : problem.photographers + from * spots + fromSpot;
    const key = row * places + to * spots + toSpot;
    if (!Number.isNaN(cost[key]!)) return key;
    const leg = legBetween(problem, ends(photographer, from, fromSpot), begins(to, toSpot));
    cost[key] = leg?.cost ?? Number.POSITIVE_INFINITY;
    freeMinutes[key] = leg?.freeMinutes ?? 0;
    return key;
  };
  return { cost, freeMinutes, at };
}

function costing({ stretches, rest }: DayProblem, legs: Legs): DayTables['costOf'] {
  const begins = Float64Array.from(stretches, ({ from }) => minutesOf(from));
  const ends = Float64Array.from(stretches, ({ to }) => minutesOf(to));
  return (row, photographer) => {
    let cost = 0;
    let from = -1;
    let since = 0;
    for (let to = 0; to <= row.length; to += 1) {
      const isEnd = to === row.length;
      const spot = isEnd ? 0 : row[to]!;
      if (spot < 0) continue;
      const leg = legs.at(photographer, from, from < 0 ? 0 : row[from]!, to, spot);
      cost += legs.cost[leg]!;
      if (cost === Number.POSITIVE_INFINITY) return cost;
      if (rest !== null && !isEnd) {
        if (from < 0 || legs.freeMinutes[leg]! >= rest.leastMinutes) since = to;
        if (ends[to]! - begins[since]! > rest.afterMinutes) return Number.POSITIVE_INFINITY;
      }
      from = to;
    }
    return cost;
  };
}

/** Places are a spot in a stretch each, cells a group at a spot. */
interface Places {
  readonly spots: number;
  readonly count: number;
  readonly returns: readonly number[];
  readonly besides: Float64Array;
  readonly cellAt: Int32Array;
  readonly cells: readonly Cell[];
  /** −1 stands for neither; else the group, twice, and which side. */
  readonly sideAt: Int32Array;
  readonly bothSides: Float64Array;
  readonly hadSides: Uint8Array;
  readonly isPinned: Uint8Array;
  readonly pins: number;
}

const SIDES = ['left', 'right'] as const;

function placesOf(problem: DayProblem): Places {
  const { spots, stretches, sides } = problem;
  const groups = groupsOf(problem);
  const groupOf = stretches.map(({ group }) => groups.indexOf(group));
  const count = stretches.length * spots.length;
  const sideOf = (group: number, spot: number): number => {
    const side = sides[spot] ?? null;
    return side === null ? -1 : 2 * group + SIDES.indexOf(side);
  };
  const at = (pick: (group: number, spot: number) => number) =>
    Int32Array.from({ length: count }, (_, i) => pick(groupOf[Math.floor(i / spots.length)]!, i % spots.length));
  const hadSides = new Uint8Array(2 * groups.length);
  for (const { group, spot } of problem.had) {
    const side = sideOf(groups.indexOf(group), spots.indexOf(spot));
    if (side >= 0) hadSides[side] = 1;
  }
  const pins = pinsOf(problem);
  const isPinned = new Uint8Array(count);
  for (const pin of pins) isPinned[pin]! += 1;
  return {
    spots: spots.length,
    count,
    returns: problem.returns,
    besides: Float64Array.from(problem.besides.flat()),
    cellAt: at((group, spot) => group * spots.length + spot),
    cells: groups.flatMap((group) => spots.map((_, spot) => cellOf(problem, group, spot))),
    sideAt: at(sideOf),
    bothSides: Float64Array.from(groups, (group) => problem.bothSides[group] ?? 0),
    hadSides,
    isPinned,
    pins: pins.length,
  };
}

function seeingOf(places: Places, rows: readonly Row[]): Seeing {
  const { spots, returns, besides, cellAt, cells, sideAt, bothSides, isPinned } = places;
  const standing = new Uint8Array(places.count);
  const seen = new Float64Array(cells.length);
  const sides = Uint16Array.from(places.hadSides);
  let value = -WISHED * places.pins;

  const bothOf = (side: number): number => (sides[side]! > 0 && sides[side ^ 1]! > 0 ? bothSides[side >> 1]! : 0);
  const countCell = (cell: number): void => {
    const { at, worth } = cells[cell]!;
    let sum = 0;
    let place = 0;
    for (let i = 0; i < at.length && place < returns.length; i += 1) {
      if (at[i]! >= 0 && standing[at[i]!] === 0) continue;
      sum += worth[i]! * returns[place]!;
      place += 1;
    }
    value += sum - seen[cell]!;
    seen[cell] = sum;
  };
  const turn = (at: number, by: 1 | -1): void => {
    value += by * (besides[at]! + WISHED * isPinned[at]!);
    const side = sideAt[at]!;
    if (side < 0) return;
    value -= bothOf(side);
    sides[side]! += by;
    value += bothOf(side);
  };
  /** Two photographers at one spot see what one would. */
  const stand = (stretch: number, spot: number, by: 1 | -1): void => {
    if (spot < 0) return;
    const at = stretch * spots + spot;
    standing[at]! += by;
    if (standing[at] === (by === 1 ? 1 : 0)) turn(at, by);
  };
  for (let group = 0; group < bothSides.length; group += 1) value += bothOf(2 * group);
  for (const row of rows) for (let i = 0; i < row.length; i += 1) stand(i, row[i]!, 1);
  for (let cell = 0; cell < cells.length; cell += 1) countCell(cell);
  return {
    value: () => value,
    change: (was, is) => {
      for (let i = 0; i < is.length; i += 1) {
        if (is[i] === was[i]) continue;
        stand(i, was[i]!, -1);
        stand(i, is[i]!, 1);
      }
      for (let i = 0; i < is.length; i += 1) {
        if (is[i] === was[i]) continue;
        if (was[i]! >= 0) countCell(cellAt[i * spots + was[i]!]!);
        if (is[i]! >= 0) countCell(cellAt[i * spots + is[i]!]!);
      }
    },
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

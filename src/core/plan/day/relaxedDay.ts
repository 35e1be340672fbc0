/**
 * The day with prices in place of what ties the walk to what is seen. Names as in `modelOfDay`: a cell is a group at a spot, its
 * places are filled by stretches. Whatever the prices, no plan is worth more than what is found at them.
 */
import type { Arc } from './network.js';
import { networksOf } from './network.js';
import { pricedWalks } from './pricedWalks.js';
import type { DayProblem } from './types.js';
import { isMeant } from './worthOfPlan.js';

export interface RelaxedDay {
  readonly prices: Float64Array;
  readonly least: Float64Array;
  readonly most: Float64Array;
  /** The bound at these prices, and how it grows with each. */
  readonly at: () => { readonly bound: number; readonly slope: Float64Array };
}

interface Cell {
  readonly group: string;
  readonly spot: number;
  readonly stretches: readonly { readonly at: number; readonly worth: number; readonly price: number }[];
  readonly had: readonly { readonly worth: number; readonly price: number }[];
  /** Seen place by place and not stand by stand: 1 to 0. */
  readonly byPlaces: number;
  readonly hadWorth: number;
}

interface Side {
  readonly cell: number;
  readonly spot: number;
  readonly stood: readonly number[];
  /** For having stood there at all. */
  readonly price: number;
  /** Of being seen from this side. */
  readonly reward: (prices: Float64Array) => number;
  /** How the reward grows with the price of the left side, and which that is. */
  readonly left: { readonly price: number; readonly grows: 1 | -1 } | null;
}

const ALL = Number.POSITIVE_INFINITY;

export function relaxedDay(problem: DayProblem): RelaxedDay {
  const { spots, stretches, photographers, returns } = problem;
  const prices: number[] = [];
  const least: number[] = [];
  const most: number[] = [];
  const price = (begin: number, from: number, to: number): number => {
    least.push(from);
    most.push(to);
    return prices.push(begin) - 1;
  };
  const cells = cellsOf(problem, price);
  const cellAt = new Map(cells.map(({ group, spot }, i) => [`${group} ${spot}`, i]));
  const { sides, surely } = sidesOf(problem, price);
  const pins = pinsOf(problem).map((at) => ({ at, price: price(0.5, -ALL, ALL) }));
  const coming = spots.map(() => price(0.2, 0, ALL));
  const begins = spots.map((spot) => (problem.start?.places.includes(spot) ? 1 : 0));
  const isShared = photographers > 1;
  const seesOf = (stands: NonNullable<Arc['stands']>) =>
    cells.flatMap((cell, i): (readonly [number, number])[] => {
      const seen = cell.spot === stands.spot ? seenInStand(problem, cell.group, stands) : 0;
      return seen > 0 ? [[i, seen]] : [];
    });
  const walks = networksOf(problem).map((network) => pricedWalks(problem, network, seesOf));
  const rests = walks.map(({ restRows }) => Array.from({ length: restRows }, () => price(0.05, 0, ALL)));
  const places = stretches.length * spots.length;
  const besides = Float64Array.from({ length: places }, (_, at) => {
    return problem.besides[Math.floor(at / spots.length)]![at % spots.length]!;
  });
  const flowPrice = isShared ? Array.from({ length: places }, () => price(0.3, 0, ALL)) : [];

  const now = Float64Array.from(prices);
  const slope = new Float64Array(prices.length);
  const standing = new Float64Array(places);
  const flow = new Float64Array(places);
  const stood = new Float64Array(places);
  const come = new Float64Array(spots.length);
  const seenInStands = new Float64Array(cells.length);
  const gains = new Float64Array(spots.length);

  const priceStanding = (): void => {
    standing.set(besides);
    for (const cell of cells) for (const each of cell.stretches) standing[each.at]! += now[each.price]!;
    for (const side of sides) for (const at of side.stood) standing[at]! += now[side.price]!;
    for (const pin of pins) standing[pin.at]! += now[pin.price]!;
  };
  /** Of two who may stand at one place only one counts. */
  const shareStanding = (): number => {
    let sum = 0;
    for (let at = 0; at < places; at += 1) {
      const over = standing[at]! - now[flowPrice[at]!]!;
      stood[at] = over > 0 ? 1 : 0;
      sum += Math.max(0, over);
      standing[at] = now[flowPrice[at]!]!;
    }
    return sum;
  };
  const walk = (): number => {
    let sum = 0;
    for (const [n, each] of walks.entries())
      sum += each.go(
        {
          standing,
          coming: (spot) => now[coming[spot]!]!,
          stands: (cell) => 1 - now[cells[cell]!.byPlaces]!,
          rests: (row) => now[rests[n]![row]!]!,
        },
        {
          stood: (stretch, spot) => {
            flow[stretch * spots.length + spot]! += 1;
          },
          came: (spot) => {
            come[spot]! += 1;
          },
          saw: (cell, worth) => {
            seenInStands[cell]! += worth;
          },
          rested: (row) => {
            slope[rests[n]![row]!]! += 1;
          },
        },
      );
    for (const own of rests)
      for (const each of own) {
        sum -= now[each]!;
        slope[each]! -= 1;
      }
    return sum;
  };
  /** Each place takes what is worth most at these prices; first only what was had is sure, then what comes if one comes there. */
  const fillPlaces = (cell: Cell, isCome: boolean): number => {
    const share = now[cell.byPlaces]!;
    const count = Math.min(returns.length, cell.stretches.length + cell.had.length);
    let sum = 0;
    for (let place = 0; place < count; place += 1) {
      let had = 0;
      let which = -1;
      for (const [i, each] of cell.had.entries()) {
        const gain = share * returns[place]! * each.worth - now[each.price]!;
        if (gain <= had) continue;
        had = gain;
        which = i;
      }
      let best = had;
      let stretch = -1;
      for (let i = 0; i < cell.stretches.length; i += 1) {
        const gain = share * returns[place]! * cell.stretches[i]!.worth - now[cell.stretches[i]!.price]!;
        if (gain <= best) continue;
        best = gain;
        stretch = i;
      }
      sum += isCome ? had : best - had;
      if (!isCome) continue;
      const taken =
        stretch >= 0 && gains[cell.spot]! > 0 ? cell.stretches[stretch]! : which >= 0 ? cell.had[which]! : null;
      if (taken === null) continue;
      slope[taken.price]! -= 1;
      slope[cell.byPlaces]! += returns[place]! * taken.worth;
    }
    return sum;
  };
  const see = (): number => {
    let sum = surely;
    for (const [spot, at] of coming.entries()) gains[spot] = -now[at]!;
    for (const cell of cells) gains[cell.spot]! += fillPlaces(cell, false);
    for (const side of sides) gains[side.spot]! += Math.max(0, side.reward(now) - now[side.price]!);
    for (const [spot, at] of coming.entries()) {
      sum += Math.max(0, gains[spot]!) + begins[spot]! * now[at]!;
      slope[at]! += come[spot]! + begins[spot]! - (gains[spot]! > 0 ? 1 : 0);
    }
    for (const [i, cell] of cells.entries()) {
      sum += fillPlaces(cell, true) + (1 - now[cell.byPlaces]!) * cell.hadWorth;
      slope[cell.byPlaces]! -= seenInStands[i]! + cell.hadWorth;
      for (const each of cell.had) {
        sum += now[each.price]!;
        slope[each.price]! += 1;
      }
      for (const each of cell.stretches) slope[each.price]! += stood[each.at]!;
    }
    return sum;
  };
  const seeSides = (): void => {
    for (const side of sides) {
      for (const at of side.stood) slope[side.price]! += stood[at]!;
      if (gains[side.spot]! <= 0 || side.reward(now) <= now[side.price]!) continue;
      slope[side.price]! -= 1;
      if (side.left !== null) slope[side.left.price]! += side.left.grows;
    }
  };
  void cellAt;
  return {
    prices: now,
    least: Float64Array.from(least),
    most: Float64Array.from(most),
    at: () => {
      for (const each of [slope, flow, come, seenInStands]) each.fill(0);
      priceStanding();
      let bound = isShared ? shareStanding() : 0;
      bound += walk();
      if (!isShared) stood.set(flow);
      for (const [at, each] of flowPrice.entries()) slope[each]! += flow[at]! - stood[at]!;
      bound += see();
      seeSides();
      for (const pin of pins) {
        bound -= now[pin.price]!;
        slope[pin.price]! += stood[pin.at]! - 1;
      }
      return { bound, slope };
    },
  };
}

type Price = (begin: number, from: number, to: number) => number;

const groupsOf = ({ stretches, had }: DayProblem): string[] => [
  ...new Set([...stretches, ...had].map(({ group }) => group)),
];

function cellsOf(problem: DayProblem, price: Price): Cell[] {
  const { spots, stretches, worth } = problem;
  return groupsOf(problem).flatMap((group) =>
    spots.map((id, spot): Cell => {
      const own = [...stretches.keys()].filter((i) => stretches[i]!.group === group && worth[i]![spot]! > 0);
      const had = problem.had.filter((each) => each.group === group && each.spot === id);
      return {
        group,
        spot,
        stretches: own.map((i) => ({
          at: i * spots.length + spot,
          worth: worth[i]![spot]!,
          price: price(0.4 * worth[i]![spot]!, 0, ALL),
        })),
        had: had.map((each) => ({ worth: each.worth, price: price(0, 0, ALL) })),
        byPlaces: price(0.5, 0, 1),
        hadWorth: sharedWorth(
          problem,
          had.map((each) => each.worth),
        ),
      };
    }),
  );
}

function sidesOf(problem: DayProblem, price: Price): { readonly sides: readonly Side[]; readonly surely: number } {
  const sides: Side[] = [];
  let surely = 0;
  for (const group of groupsOf(problem)) {
    const both = problem.bothSides[group] ?? 0;
    const hadFrom = (side: 'left' | 'right') =>
      problem.had.some((had) => had.group === group && problem.sides[problem.spots.indexOf(had.spot)] === side);
    const open = (['left', 'right'] as const).filter((side) => !hadFrom(side));
    if (both === 0) continue;
    if (open.length === 0) surely += both;
    const left = open.length === 2 ? price(both / 2, 0, both) : null;
    for (const [spot, side] of problem.sides.entries()) {
      if (side === null || !open.includes(side)) continue;
      sides.push({
        cell: 0,
        spot,
        stood: problem.stretches.flatMap((stretch, i) =>
          stretch.group === group ? [i * problem.spots.length + spot] : [],
        ),
        price: price(both / 4, 0, ALL),
        reward: (now) => (left === null ? both : side === 'left' ? now[left]! : both - now[left]!),
        left: left === null ? null : { price: left, grows: side === 'left' ? 1 : -1 },
      });
    }
  }
  return { sides, surely };
}

const pinsOf = ({ wishes, stretches, spots }: DayProblem): number[] =>
  wishes.flatMap((wish) =>
    wish.kind === 'pin'
      ? stretches.flatMap((stretch, i) => (isMeant(wish, stretch) ? [i * spots.length + spots.indexOf(wish.spot)] : []))
      : [],
  );

const seenInStand = (problem: DayProblem, group: string, { spot, first, last }: NonNullable<Arc['stands']>): number =>
  sharedWorth(
    problem,
    problem.stretches
      .slice(first, last + 1)
      .flatMap((stretch, i) => (stretch.group === group ? [problem.worth[first + i]![spot]!] : [])),
  );

const sharedWorth = ({ returns }: DayProblem, worths: readonly number[]): number =>
  [...worths].sort((a, b) => b - a).reduce((sum, worth, i) => sum + worth * (returns[i] ?? 0), 0);

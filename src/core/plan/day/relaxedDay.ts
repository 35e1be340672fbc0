/**
 * The day with prices in place of what ties the walk to what is seen. Names as in `modelOfDay`: a cell is a group at a spot, its
 * places are filled by stretches. Whatever the prices, no plan is worth more than what is found at them.
 */
import { pinsOf, type Stands, worthOfStand } from './cells.js';
import type { Row } from './dayTables.js';
import { networksOf } from './network.js';
import { pricedWalks } from './pricedWalks.js';
import { ALL, bothSidesOf, type Cell, cellsOf } from './relaxedParts.js';
import type { DayProblem } from './types.js';

export interface RelaxedDay {
  readonly prices: Float64Array;
  readonly least: Float64Array;
  readonly most: Float64Array;
  /** The bound at these prices, how it grows with each, and the walks that are best at them: they are written over each time. */
  readonly at: () => { readonly bound: number; readonly slope: Float64Array; readonly rows: readonly Row[] };
}

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
  const groups = bothSidesOf(problem, price);
  const sides = groups.flatMap((group) => group.cells);
  const pins = pinsOf(problem).map((at) => ({ at, price: price(0.5, -ALL, ALL) }));
  const coming = spots.map(() => price(0.2, 0, ALL));
  const begins = spots.map((spot) => (problem.start?.places.includes(spot) ? 1 : 0));
  const isShared = photographers > 1;
  const seesOf = (stands: Stands) =>
    cells.flatMap((cell, i): (readonly [number, number])[] => {
      const seen = cell.spot === stands.spot ? worthOfStand(problem, cell.group, stands) : 0;
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
  const rows = Array.from({ length: photographers }, () => new Int8Array(stretches.length));
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
          stood: (photographer, stretch, spot) => {
            rows[photographer]![stretch] = spot;
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
    let sum = 0;
    for (const [spot, at] of coming.entries()) gains[spot] = -now[at]!;
    for (const cell of cells) gains[cell.spot]! += fillPlaces(cell, false);
    for (const side of sides) gains[side.spot]! += Math.max(0, now[side.reward]! - now[side.price]!);
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
  const seeSides = (): number => {
    let sum = 0;
    for (const side of sides) {
      for (const at of side.stood) slope[side.price]! += stood[at]!;
      if (gains[side.spot]! <= 0 || now[side.reward]! <= now[side.price]!) continue;
      slope[side.price]! -= 1;
      slope[side.reward]! += 1;
    }
    for (const { worth, rewards } of groups) {
      const rest = rewards.reduce((left, each) => left - now[each]!, worth);
      if (rest <= 0) continue;
      sum += rest;
      for (const each of rewards) slope[each]! -= 1;
    }
    return sum;
  };
  return {
    prices: now,
    least: Float64Array.from(least),
    most: Float64Array.from(most),
    at: () => {
      for (const each of [slope, flow, come, seenInStands]) each.fill(0);
      for (const row of rows) row.fill(-1);
      priceStanding();
      let bound = isShared ? shareStanding() : 0;
      bound += walk();
      if (!isShared) stood.set(flow);
      for (const [at, each] of flowPrice.entries()) slope[each]! += flow[at]! - stood[at]!;
      bound += see();
      bound += seeSides();
      for (const pin of pins) {
        bound -= now[pin.price]!;
        slope[pin.price]! += stood[pin.at]! - 1;
      }
      return { bound, slope, rows };
    },
  };
}

/** The best walks through a network at given prices, by one pass from its end to its beginning: no arc leads back in time. */
import type { Stands } from './cells.js';
import { minutesOf } from './legs.js';
import type { Arc, Network } from './network.js';
import type { DayProblem } from './types.js';

export interface WalkPrices {
  /** For standing, `[stretch × spots + spot]`. */
  readonly standing: Float64Array;
  /** For coming to a spot. */
  readonly coming: (spot: number) => number;
  /** For what a group sees in one whole stand, by cell. */
  readonly stands: (cell: number) => number;
  /** For a rest within each row of stretches that is longer than one may work. */
  readonly rests: (row: number) => number;
}

/** Told of each arc that a walk takes. */
export interface WalkVisits {
  readonly stood: (photographer: number, stretch: number, spot: number) => void;
  readonly came: (spot: number) => void;
  readonly saw: (cell: number, worth: number) => void;
  readonly rested: (row: number) => void;
}

export interface PricedWalks {
  /** Rows of stretches that each hold a rest. */
  readonly restRows: number;
  /** What the best walks bring together; then each is gone. */
  readonly go: (prices: WalkPrices, visits: WalkVisits) => number;
}

interface PricedArc {
  readonly arc: Arc;
  /** What each group would see in this stand, were it the only one there. */
  readonly sees: readonly (readonly [cell: number, worth: number])[];
  /** Rows in which it is a rest: from, and up to. */
  readonly rests: readonly [number, number];
}

export function pricedWalks(
  problem: DayProblem,
  network: Network,
  seesOf: (stands: Stands) => PricedArc['sees'],
): PricedWalks {
  const spots = problem.spots.length;
  const rows = restRowsOf(problem);
  const arcs = network.arcs
    .map(
      (arc): PricedArc => ({
        arc,
        sees: arc.stands === undefined ? [] : seesOf(arc.stands),
        rests: restsOf(rows, arc),
      }),
    )
    .sort((a, b) => orderOf(problem, network, b.arc) - orderOf(problem, network, a.arc));
  const nodes = Math.max(...network.arcs.map(({ from, to }) => Math.max(from, to))) + 1;
  const worth = new Float64Array(nodes);
  const next = new Int32Array(nodes);
  const sums = new Float64Array((problem.stretches.length + 1) * spots);
  const restSums = new Float64Array(rows.length + 1);

  const pricedOf = ({ arc, sees, rests }: PricedArc, prices: WalkPrices): number => {
    let sum = restSums[rests[1]]! - restSums[rests[0]]! - arc.cost;
    if (arc.enters !== undefined) sum += prices.coming(arc.enters);
    if (arc.stands === undefined) return sum;
    const { spot, first, last } = arc.stands;
    sum += sums[(last + 1) * spots + spot]! - sums[first * spots + spot]!;
    for (const [cell, seen] of sees) sum += prices.stands(cell) * seen;
    return sum;
  };
  const goFrom = (source: number, photographer: number, visits: WalkVisits): void => {
    for (let node = source; node !== network.sink; ) {
      const { arc, sees, rests } = arcs[next[node]!]!;
      if (arc.enters !== undefined) visits.came(arc.enters);
      for (let i = arc.stands?.first ?? 0; i <= (arc.stands?.last ?? -1); i += 1)
        visits.stood(photographer, i, arc.stands!.spot);
      for (const [cell, seen] of sees) visits.saw(cell, seen);
      for (let row = rests[0]; row < rests[1]; row += 1) visits.rested(row);
      node = arc.to;
    }
  };
  return {
    restRows: rows.length,
    go: (prices, visits) => {
      for (let at = 0; at < sums.length - spots; at += 1) sums[at + spots] = sums[at]! + prices.standing[at]!;
      for (let row = 0; row < rows.length; row += 1) restSums[row + 1] = restSums[row]! + prices.rests(row);
      worth.fill(Number.NEGATIVE_INFINITY);
      worth[network.sink] = 0;
      for (let i = 0; i < arcs.length; i += 1) {
        const { from, to } = arcs[i]!.arc;
        const here = worth[to]! + pricedOf(arcs[i]!, prices);
        if (here <= worth[from]!) continue;
        worth[from] = here;
        next[from] = i;
      }
      let sum = 0;
      for (const { node, count, photographers } of network.sources) {
        sum += count * worth[node]!;
        if (worth[node] === Number.NEGATIVE_INFINITY) continue;
        for (const photographer of photographers) goFrom(node, photographer, visits);
      }
      return sum;
    },
  };
}

/** Rows as `modelOfDay` has them: from each stretch to the first that ends too late. */
function restRowsOf({ rest, stretches }: DayProblem): { readonly first: number; readonly last: number }[] {
  if (rest === null) return [];
  return stretches.flatMap((stretch, first) => {
    const last = stretches.findIndex(({ to }, i) => i >= first && minutesOf(to - stretch.from) > rest.afterMinutes);
    return last < 0 ? [] : [{ first, last }];
  });
}

/** Beginnings and ends of the rows both grow, so those that a rest lies in follow one another. */
function restsOf(rows: ReturnType<typeof restRowsOf>, { rest }: Arc): readonly [number, number] {
  if (rest === undefined) return [0, 0];
  const [after, before] = rest;
  const from = rows.filter(({ last }) => last <= after).length;
  return [from, Math.max(from, rows.filter(({ first }) => first < before).length)];
}

/** Being somewhere as a stretch begins comes before having stood until its end; `nodesOf` numbers them so. */
function orderOf({ stretches, spots }: DayProblem, { sink }: Network, { from }: Arc): number {
  if (from > sink) return -1;
  const all = stretches.length * spots.length;
  return 2 * Math.floor((from % all) / spots.length) + (from >= 2 * all ? 1 : 0);
}

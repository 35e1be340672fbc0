/** Of what the relaxed day is made, each with the prices that it hangs on. A price is an index. */
import { groupsOf, sharedWorth } from './cells.js';
import type { DayProblem } from './types.js';

/** A new price: where it begins, and between what it may lie. */
export type AddPrice = (begin: number, from: number, to: number) => number;

export interface Cell {
  readonly group: string;
  readonly spot: number;
  readonly stretches: readonly { readonly at: number; readonly worth: number; readonly price: number }[];
  readonly had: readonly { readonly worth: number; readonly price: number }[];
  /** Seen place by place and not stand by stand: 1 to 0. */
  readonly byPlaces: number;
  readonly hadWorth: number;
}

/** A group at a spot that shows one side. */
interface SideCell {
  readonly spot: number;
  readonly stood: readonly number[];
  /** For having stood there at all. */
  readonly price: number;
  /** Of being seen from this side. */
  readonly reward: number;
}

export interface BothSides {
  readonly worth: number;
  /** Of those sides from which the group was not seen before. */
  readonly rewards: readonly number[];
  readonly cells: readonly SideCell[];
}

export const ALL = Number.POSITIVE_INFINITY;

export function cellsOf(problem: DayProblem, price: AddPrice): Cell[] {
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

export function bothSidesOf(problem: DayProblem, price: AddPrice): BothSides[] {
  return groupsOf(problem).flatMap((group): BothSides[] => {
    const worth = problem.bothSides[group] ?? 0;
    if (worth === 0) return [];
    const wasSeenFrom = (side: 'left' | 'right') =>
      problem.had.some((had) => had.group === group && problem.sides[problem.spots.indexOf(had.spot)] === side);
    const rewards = new Map(
      (['left', 'right'] as const)
        .filter((side) => !wasSeenFrom(side))
        .map((side, _, { length }) => [side, price(worth / length, 0, worth)]),
    );
    const cells = problem.sides.flatMap((side, spot): SideCell[] => {
      const reward = side === null ? undefined : rewards.get(side);
      if (reward === undefined) return [];
      const own = problem.stretches.flatMap((stretch, i) => (stretch.group === group ? [i] : []));
      const stood = own.map((i) => i * problem.spots.length + spot);
      return [{ spot, stood, price: price(worth / 4, 0, ALL), reward }];
    });
    return [{ worth, rewards: [...rewards.values()], cells }];
  });
}

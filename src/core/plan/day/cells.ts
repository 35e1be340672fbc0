/** What a group sees at one spot, as the programme and its bound both count it: `worthOfPlan` counts for itself. */
import type { Arc } from './network.js';
import type { DayProblem } from './types.js';
import { isMeant } from './worthOfPlan.js';

export type Stands = NonNullable<Arc['stands']>;

export const groupsOf = ({ stretches, had }: DayProblem): string[] => [
  ...new Set([...stretches, ...had].map(({ group }) => group)),
];

export const sharedWorth = ({ returns }: DayProblem, worths: readonly number[]): number =>
  [...worths].sort((a, b) => b - a).reduce((sum, worth, i) => sum + worth * (returns[i] ?? 0), 0);

/** What a group sees in one stand, were it the only one here. */
export const worthOfStand = (problem: DayProblem, group: string, { spot, first, last }: Stands): number =>
  sharedWorth(
    problem,
    problem.stretches
      .slice(first, last + 1)
      .flatMap((stretch, i) => (stretch.group === group ? [problem.worth[first + i]![spot]!] : [])),
  );

/** Stretch and spot of each pin, as one index. */
export const pinsOf = ({ wishes, stretches, spots }: DayProblem): number[] =>
  wishes.flatMap((wish) =>
    wish.kind === 'pin'
      ? stretches.flatMap((stretch, i) => (isMeant(wish, stretch) ? [i * spots.length + spots.indexOf(wish.spot)] : []))
      : [],
  );

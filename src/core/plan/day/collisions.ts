/**
 * Which wishes cannot be had together. A deletion filter (J. W. Chinneck, Feasibility and Infeasibility in Optimization, 2008,
 * ch. 6): each wish in turn is left out; where the rest is still impossible it was not needed for that. What remains is
 * impossible, and without any one of it possible. There may be another such set, even a smaller one.
 */
import { minutesOf } from './legs.js';
import type { BindingWish, DayProblem, Obstacle } from './types.js';

export function smallestCollision(problem: DayProblem, isPossible: (problem: DayProblem) => boolean): Obstacle[] {
  let left = obstaclesOf(problem);
  for (const each of obstaclesOf(problem)) {
    const fewer = left.filter((other) => other !== each && !isSame(other, each));
    if (!isPossible(problemWith(problem, fewer))) left = fewer;
  }
  return left;
}

const isSame = (a: Obstacle, b: Obstacle): boolean =>
  a.kind === b.kind && (a.kind === 'van-breaks' || a.kind === 'rest-limit');

/** Pins come last, so that they are kept: they are what a person asked for. */
const obstaclesOf = ({ wishes, vanBreaks, rest }: DayProblem): Obstacle[] => [
  ...(rest === null ? [] : [{ kind: 'rest-limit' } as const]),
  ...(vanBreaks.length === 0 ? [] : [{ kind: 'van-breaks' } as const]),
  ...wishes.filter(({ kind }) => kind !== 'pin'),
  ...wishes.filter(({ kind }) => kind === 'pin'),
];

function problemWith(problem: DayProblem, obstacles: readonly Obstacle[]): DayProblem {
  const has = (kind: Obstacle['kind']) => obstacles.some((each) => each.kind === kind);
  return {
    ...problem,
    wishes: obstacles.filter((each): each is BindingWish => each.kind !== 'van-breaks' && each.kind !== 'rest-limit'),
    vanBreaks: has('van-breaks') ? problem.vanBreaks : [],
    rest: has('rest-limit') ? problem.rest : null,
  };
}

export function sentenceOfCollision(problem: DayProblem, colliding: readonly Obstacle[]): string {
  if (colliding.length === 0)
    return 'No plan is possible from where the photographers are: no way leads on from there.';
  const said = colliding.map((each) => wordsFor(problem, each));
  if (said.length === 1) return `This cannot be had: ${said[0]}. Take it back or change it.`;
  return `These cannot all be had: ${said.slice(0, -1).join('; ')}; and ${said.at(-1)}. Take one of them back.`;
}

function wordsFor(problem: DayProblem, obstacle: Obstacle): string {
  const at = (spot: (typeof problem.spots)[number]) => problem.spotNames[problem.spots.indexOf(spot)] ?? spot;
  switch (obstacle.kind) {
    case 'pin':
      return `${at(obstacle.spot)} in ${obstacle.stretch}`;
    case 'forbid':
      return `not ${at(obstacle.spot)} in ${obstacle.stretch}`;
    case 'closed':
      return `${at(obstacle.spot)} closed from ${clock(obstacle.from)} to ${clock(obstacle.to)}`;
    case 'rest':
      return `a rest from ${clock(obstacle.from)} to ${clock(obstacle.to)}`;
    case 'van-breaks':
      return `lunch at the van (${problem.vanBreaks.map((each) => `${each.leastMinutes} min between ${clock(each.from)} and ${clock(each.to)}`).join(', ')})`;
    case 'rest-limit':
      return `a rest of ${problem.rest?.leastMinutes} min after at most ${problem.rest?.afterMinutes} min`;
  }
}

const clock = (at: number): string => {
  const minutes = Math.floor(minutesOf(at)) % (24 * 60);
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
};

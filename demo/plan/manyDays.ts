/** Days by the hundred, varied in everything a day may have: tiny ones that can be tried out whole, and big ones. */
import type { DayProblem } from '../../src/core/plan/day/types.js';
import { type DayShape, inventedDay } from './inventedDay.js';

/** At most 4,096 plans for one photographer, 6,561 for two. */
export function tinyDay(seed: number): DayProblem {
  const isShared = seed % 4 === 3;
  const isHalved = !isShared && seed % 3 === 2;
  return inventedDay({
    seed,
    sessions: isShared ? 4 : isHalved ? 3 : 5 + (seed % 2),
    halves: isHalved ? 2 : 1,
    spots: isShared ? 2 : 3,
    groups: 2,
    photographers: isShared ? 2 : 1,
    wishes: seed % 5,
    ...(seed % 2 === 0 ? {} : { restAfterMinutes: 45 }),
    hasLunch: seed % 3 !== 1,
    isUnderWay: seed % 6 === 0,
  });
}

/** A whole day, `size` by `size` smaller where it shall be quick. */
export function bigDay(
  seed: number,
  size: Pick<DayShape, 'sessions' | 'spots'> = { sessions: 21, spots: 8 },
): DayProblem {
  return inventedDay({
    seed: 1000 + seed,
    ...size,
    halves: 2,
    groups: 3 + (seed % 2),
    photographers: seed % 5 === 4 ? 2 : 1,
    wishes: seed % 3 === 0 ? 0 : 2,
    ...(seed % 5 === 3 ? { restAfterMinutes: 150 } : {}),
    isUnderWay: seed % 7 === 0,
  });
}

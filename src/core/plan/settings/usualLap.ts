/** A guess of a group's lap before anybody was timed: the fastest lap times what practice gives its level. Rule PL521. */
import { type Milliseconds, millisecondsOf } from '../../units.js';
import { PACE } from './practice.js';
import type { Level, Range } from './types.js';

/** `level` null: as far from the quickest riders as from the slowest. */
export function usualLap(fastestMs: Milliseconds, level: Level | null): Milliseconds {
  const ranges = level === null ? Object.values(PACE).map(({ range }) => range) : [PACE[level].range];
  return millisecondsOf(Math.round(fastestMs * middleOf(ranges)));
}

const middleOf = (ranges: readonly Range[]): number =>
  (Math.min(...ranges.map(([least]) => least)) + Math.max(...ranges.map(([, most]) => most))) / 2;

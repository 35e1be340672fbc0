/**
 * How far bike and rider lean in the picture: the line from where the wheels stand to the middle of the helmet, against upright.
 * Seen from ahead or behind that is the lean in the corner, with what the rider hangs off added; seen from the side a lean shows
 * in nothing but a lower bike, so that nothing is said.
 */
import type { Absent } from '../measure/types.js';
import { degreesOf } from '../units.js';
import { boundsOf, isSeenEndOn, largestPiece, type OnGrid } from './onGrid.js';
import type { Lean } from './types.js';

/** Of the bike's height, from its lowest point up: where its wheels stand. */
const FOOT = 0.055;
export interface LineLimits {
  /** See `isSeenEndOn`. */
  readonly widestBase: number;
  /** Of bike and rider: from behind the back hides most of the helmet, and its middle is not the head's. */
  readonly leastHelmet: number;
}
const FOR_LEAN: LineLimits = { widestBase: 0.5, leastHelmet: 0.05 };

/** @param cellAspect width over height of one cell. Points are 0–1 of the crop. */
export function tellLean(
  grid: OnGrid,
  cellAspect: number,
  { widestBase, leastHelmet } = FOR_LEAN,
): Lean | Absent<'seen-from-the-side' | 'no-helmet'> {
  const bike = largestPiece(grid, grid.isBike);
  if (bike === null) return { kind: 'absent', reason: 'no-helmet' };
  if (!isSeenEndOn(grid, bike, cellAspect, widestBase)) return { kind: 'absent', reason: 'seen-from-the-side' };
  const { bottom, top } = boundsOf(grid, bike.has)!;
  const helmet = middleOfHelmet(grid, bike.cells, leastHelmet);
  if (helmet === null) return { kind: 'absent', reason: 'no-helmet' };
  const footFrom = bottom - FOOT * (bottom - top);
  const foot = boundsOf(grid, (cell) => bike.has(cell) && Math.floor(cell / grid.columns) >= footFrom)!;
  const stands = [(foot.left + foot.right + 1) / 2, bottom + 1] as const;
  const across = (helmet[0] - stands[0]) * cellAspect;
  const leanDeg = degreesOf((Math.atan2(across, stands[1] - helmet[1]) * 180) / Math.PI);
  const share = ([x, y]: readonly [number, number]): readonly [number, number] => [x / grid.columns, y / grid.rows];
  return { kind: 'lean', leanDeg, from: share(stands), to: share(helmet) };
}

function middleOfHelmet(
  { columns, isHelmet }: OnGrid,
  bike: readonly number[],
  least: number,
): readonly [number, number] | null {
  const helmet = bike.filter(isHelmet);
  if (helmet.length === 0 || helmet.length < least * bike.length) return null;
  const [x, y] = [helmet.map((cell) => cell % columns), helmet.map((cell) => Math.floor(cell / columns))];
  const middle = (of: readonly number[]): number => of.reduce((sum, one) => sum + one, 0) / of.length + 0.5;
  return [middle(x), middle(y)];
}

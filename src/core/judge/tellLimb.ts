/**
 * Whether a knee or an elbow sticks out on the inside of a turn, seen from ahead or behind: up the leaning bike, its outline on the
 * inside steps in and out again, to something worn, before it ends at the helmet. Held in, nothing steps out. Which of the two it
 * is depends on how far the rider hangs off, and is not told.
 */
import type { Absent, Box } from '../measure/types.js';
import { largestPiece, type OnGrid } from './onGrid.js';
import { type LineLimits, tellLean } from './tellLean.js';
import type { Lean, Out } from './types.js';

/** Less than this is no turn to stick anything into. */
const TURNS_FROM_DEG = 15;
/** Places up the line from the wheels to the helmet, in shares of it, one every so many. */
const STEP = 0.05;
const GAP_FROM = 0.45;
const LIMB = { from: 0.6, to: 0.85 } as const;
const SHOULDER_TO = 1;
/** Steps out from the gap below it by so much of that line, and comes in again above by so much. */
const LEAST_STEP = 0.12;
const LEAST_END = 0.1;
/** Of what lies at the outline there, to this depth. */
const DEPTH = 0.06;
const LEAST_WORN = 0.3;

/** The line need not be as true as a lean that is said. */
const LINE: LineLimits = { widestBase: 0.6, leastHelmet: 0.012 };

/** What is said is 0–1 of the grid. */
export function tellLimb(
  grid: OnGrid & { readonly worn: (cell: number) => number },
  cellAspect: number,
): Out | Absent<'seen-from-the-side' | 'no-helmet' | 'upright' | 'nothing-sticks-out'> {
  const lean = tellLean(grid, cellAspect, LINE);
  if (lean.kind === 'absent') return lean;
  if (Math.abs(lean.leanDeg) < TURNS_FROM_DEG) return { kind: 'absent', reason: 'upright' };
  const rungs = rungsOf(grid, lean, cellAspect);
  const between = (from: number, to: number): readonly Rung[] =>
    rungs.filter(({ up }) => up > from - STEP / 2 && up < to + STEP / 2);
  const limb = between(LIMB.from, LIMB.to).reduce((best, one) => (one.reach > best.reach ? one : best));
  const least = (some: readonly Rung[]): number => Math.min(...some.map(({ reach }) => reach));
  const steps = limb.reach - least(between(GAP_FROM, limb.up - STEP));
  const ends = limb.reach - least(between(limb.up + STEP, SHOULDER_TO));
  if (steps < LEAST_STEP || ends < LEAST_END || limb.worn < LEAST_WORN)
    return { kind: 'absent', reason: 'nothing-sticks-out' };
  return { kind: 'out', where: boxOf(grid, limb.tip, cellAspect) };
}

interface Rung {
  readonly up: number;
  /** How far the outline lies from the line, to the inside, in shares of its length; 0 where there is nothing. */
  readonly reach: number;
  readonly worn: number;
  readonly tip: readonly number[];
}

function rungsOf(
  grid: OnGrid & { readonly worn: (cell: number) => number },
  { from, to, leanDeg }: Lean,
  cellAspect: number,
): readonly Rung[] {
  const { columns, rows } = grid;
  const foot = [from[0] * columns * cellAspect, from[1] * rows] as const;
  const line = [to[0] * columns * cellAspect - foot[0], to[1] * rows - foot[1]] as const;
  const squared = line[0] ** 2 + line[1] ** 2;
  // Upright in the picture is negative, so that this points to the picture's right.
  const inside = Math.sign(leanDeg);
  const rungs = Array.from({ length: Math.round(SHOULDER_TO / STEP) + 1 }, (): (readonly [number, number])[] => []);
  for (const cell of largestPiece(grid, grid.isBike)?.cells ?? []) {
    const x = ((cell % columns) + 0.5) * cellAspect - foot[0];
    const y = Math.floor(cell / columns) + 0.5 - foot[1];
    const reach = (inside * (-line[1] * x + line[0] * y)) / squared;
    rungs[Math.round((line[0] * x + line[1] * y) / squared / STEP)]?.push([cell, reach]);
  }
  return rungs.map((cells, place): Rung => {
    const reach = Math.max(0, ...cells.map(([, one]) => one));
    const tip = cells.filter(([, one]) => one > reach - DEPTH).map(([cell]) => cell);
    const worn = tip.reduce((sum, cell) => sum + grid.worn(cell), 0) / Math.max(1, tip.length);
    return { up: place * STEP, reach, worn, tip };
  });
}

/** Of the bike's outline nobody is cut off at its last cells. */
const AROUND = 3;

function boxOf({ columns, rows }: OnGrid, cells: readonly number[], cellAspect: number): Box {
  const x = cells.map((cell) => cell % columns);
  const y = cells.map((cell) => Math.floor(cell / columns));
  const [left, right] = [Math.min(...x) - AROUND / cellAspect, Math.max(...x) + 1 + AROUND / cellAspect];
  const [top, bottom] = [Math.min(...y) - AROUND, Math.max(...y) + 1 + AROUND];
  return [left / columns, top / rows, (right - left) / columns, (bottom - top) / rows];
}

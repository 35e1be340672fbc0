/** The network's maps as digits: cells where a digit's middle is likely, those of one digit pooled into one vote. */
import type { Digit, DigitMaps } from './types.js';

export const CELL_PX = 4;
const DIGIT = 0;
const NUMBER = 1;
const CLASS = 2;
const OFFSET = 12;
const SIZE = 14;
const DIRECTION = 16;
const LINK = 18;
const LENGTH = 23;
const WHOLE = 26;
/** The network gives logarithms of sizes over this. */
const SIZE_UNIT_PX = 16;
/** Cells this much weaker than their digit's strongest have no vote. */
const LEAST_VOTE = 0.35;

type Pooled = { readonly strongest: Digit; readonly cells: Digit[] };

/** @returns digits, strongest first */
export function decodeDigits(maps: DigitMaps, leastScore: number): Digit[] {
  const pooled: Pooled[] = [];
  for (const cell of cellsOf(maps, leastScore)) {
    const same = pooled.find(({ strongest }) => isSameDigit(cell, strongest));
    if (!same) pooled.push({ strongest: cell, cells: [cell] });
    else if (cell.score > LEAST_VOTE * same.strongest.score) same.cells.push(cell);
  }
  return pooled.map(voted);
}

/** How surely the middle of a number lies at a point, 0–1: the best of the cells about it. */
export function numberScoreAt({ data, columns, rows }: DigitMaps, x: number, y: number): number {
  const plane = columns * rows;
  const column = Math.round(x / CELL_PX - 0.5);
  const row = Math.round(y / CELL_PX - 0.5);
  let best = 0;
  for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r += 1)
    for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c += 1)
      best = Math.max(best, data[NUMBER * plane + r * columns + c]!);
  return best;
}

function cellsOf(maps: DigitMaps, leastScore: number): Digit[] {
  const plane = maps.columns * maps.rows;
  const cells: Digit[] = [];
  for (let index = 0; index < plane; index += 1)
    if (maps.data[DIGIT * plane + index]! >= leastScore) cells.push(cellAt(maps, plane, index));
  return cells.sort((a, b) => b.score - a.score);
}

function cellAt({ data, columns }: DigitMaps, plane: number, index: number): Digit {
  const at = (channel: number): number => data[channel * plane + index]!;
  const many = (channel: number, count: number) => Array.from({ length: count }, (_, k) => at(channel + k));
  const length = Math.hypot(at(DIRECTION), at(DIRECTION + 1)) + 1e-6;
  const x = ((index % columns) + 0.5 + at(OFFSET)) * CELL_PX;
  const y = (Math.floor(index / columns) + 0.5 + at(OFFSET + 1)) * CELL_PX;
  const height = SIZE_UNIT_PX * Math.exp(at(SIZE + 1));
  return {
    score: at(DIGIT),
    x,
    y,
    width: SIZE_UNIT_PX * Math.exp(at(SIZE)),
    height,
    cos: at(DIRECTION) / length,
    sin: at(DIRECTION + 1) / length,
    numberX: x + at(LINK) * height,
    numberY: y + at(LINK + 1) * height,
    chances: many(CLASS, 10),
    lengths: many(LENGTH, 3),
    whole: data.length >= (WHOLE + 1) * plane ? at(WHOLE) : 1,
  };
}

/** Within half a digit of a stronger cell; a much weaker cell also where it lies a little further along the line. */
function isSameDigit(cell: Digit, strong: Digit): boolean {
  const dx = cell.x - strong.x;
  const dy = cell.y - strong.y;
  const along = Math.abs(dx * strong.cos + dy * strong.sin);
  const across = Math.abs(dy * strong.cos - dx * strong.sin);
  if (across >= 0.5 * strong.height) return false;
  const isNear = along < 0.5 * Math.max(0.4 * strong.height, strong.width);
  return isNear || (cell.score < 0.6 * strong.score && along < 0.85 * strong.width);
}

function voted({ strongest, cells }: Pooled): Digit {
  const total = cells.reduce((sum, { score }) => sum + score, 0);
  const mean = (of: (cell: Digit) => number) => cells.reduce((sum, cell) => sum + cell.score * of(cell), 0) / total;
  return {
    ...strongest,
    chances: strongest.chances.map((_, k) => mean(({ chances }) => chances[k]!)),
    lengths: strongest.lengths.map((_, k) => mean(({ lengths }) => lengths[k]!)),
    whole: mean(({ whole }) => whole),
  };
}

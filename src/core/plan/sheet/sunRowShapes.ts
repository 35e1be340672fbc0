/**
 * A sun row as shapes, for paper and screen: threads that are thin where the light is behind the lens and thick against it,
 * broken where the sun is low; and the words that have room beside one's own stands.
 */
import { type WallMs, wallMsOf } from '../../units.js';
import type { SheetStand, SheetSun } from './types.js';

export interface RowScale {
  readonly from: WallMs;
  readonly to: WallMs;
  x(at: number): number;
}

export interface RowSize {
  readonly rowPx: number;
  readonly threads: number;
}

export type ShapePoint = readonly [x: number, y: number];

const ROW_EDGE_PX = 6;
const THINNEST_PX = 0.35;
const DASH_PX = 3;

type Thread = SheetSun['threads'][number];
type ThreadPoint = Thread['points'][number];

/** Closed outlines of a run's threads in the row whose upper edge is at `top`. */
export function threadShapes(
  { kind, points }: Thread,
  scale: RowScale,
  top: number,
  { rowPx, threads }: RowSize,
): readonly (readonly ShapePoint[])[] {
  const within = points.filter(({ at }) => at >= scale.from && at <= scale.to);
  const pieces = (kind === 'broken' ? dashed(within, scale) : [within]).filter(({ length }) => length > 1);
  const pitch = (rowPx - ROW_EDGE_PX) / threads;
  const half = (shade: number): number => (THINNEST_PX + shade * (pitch - 2 * THINNEST_PX)) / 2;
  return pieces.flatMap((piece) =>
    Array.from({ length: threads }, (_, thread) => {
      const middle = top + ROW_EDGE_PX / 2 + pitch * (thread + 0.5);
      const above = piece.map(({ at, shade }): ShapePoint => [scale.x(at), middle - half(shade)]);
      const below = piece.map(({ at, shade }): ShapePoint => [scale.x(at), middle + half(shade)]).reverse();
      return [...above, ...below];
    }),
  );
}

function dashed(points: readonly ThreadPoint[], scale: RowScale): readonly (readonly ThreadPoint[])[] {
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return [];
  const msPerPx = (scale.to - scale.from) / (scale.x(scale.to) - scale.x(scale.from));
  const step = DASH_PX * 2 * msPerPx;
  const count = Math.ceil((last.at - first.at) / step);
  return Array.from({ length: count }, (_, i) => {
    const from = first.at + i * step;
    const to = Math.min(last.at, from + step / 2);
    return [from, to].map((at) => ({ at: at as WallMs, shade: shadeAt(points, at) }));
  });
}

const shadeAt = (points: readonly ThreadPoint[], at: number): ThreadPoint['shade'] =>
  (points.findLast((point) => point.at <= at) ?? points[0]!).shade;

export interface PlacedWord {
  readonly word: string;
  /** Of the paper it stands on, and of the word. */
  readonly width: number;
  readonly middle: number;
}

const WORD_EDGE_PX = 5;

/** A word where the row has room for it beside one's own stands; none where it has not. */
export function placedWords(
  row: SheetSun,
  stands: readonly SheetStand[],
  scale: RowScale,
  widthOf: (word: string) => number,
): readonly PlacedWord[] {
  const own = stands
    .filter(({ spot }) => spot.id === row.spot.id)
    .map(({ from, to }) => [scale.x(from), scale.x(to)] as const);
  return row.words.flatMap(({ from, to, word }): readonly PlacedWord[] => {
    const width = widthOf(word) + 2 * WORD_EDGE_PX;
    const free = freeParts([scale.x(from), scale.x(to)], own).sort((a, b) => b[1] - b[0] - (a[1] - a[0]))[0];
    return free === undefined || free[1] - free[0] < width + 4
      ? []
      : [{ word, width, middle: (free[0] + free[1]) / 2 }];
  });
}

/** Where the ways between stands cross the rows, or run along one from stand to stand: no word stands there either. */
export function crossings(rows: readonly SheetSun[], stands: readonly SheetStand[]): readonly SheetStand[] {
  const rowOf = ({ spot }: SheetStand) => rows.findIndex((row) => row.spot.id === spot.id);
  return stands.slice(1).flatMap((stand, i): readonly SheetStand[] => {
    const before = stands[i]!;
    const [first, last] = [rowOf(before), rowOf(stand)];
    const steps = Math.abs(last - first);
    if (first < 0 || last < 0) return [];
    if (steps === 0) return [{ spot: stand.spot, from: before.to, to: stand.from, isDone: false }];
    const at = (share: number): WallMs =>
      wallMsOf(before.to + Math.min(1, Math.max(0, share)) * (stand.from - before.to));
    return Array.from({ length: steps + 1 }, (_, step) => ({
      spot: rows[first + Math.sign(last - first) * step]!.spot,
      from: at((step - 0.5) / steps),
      to: at((step + 0.5) / steps),
      isDone: false,
    }));
  });
}

type Part = readonly [from: number, to: number];

function freeParts(span: Part, taken: readonly Part[]): Part[] {
  return taken.reduce<Part[]>(
    (parts, [from, to]) =>
      parts.flatMap((part): Part[] =>
        to <= part[0] || from >= part[1]
          ? [part]
          : [[part[0], from - 3] as Part, [to + 3, part[1]] as Part].filter(([a, b]) => b > a),
      ),
    [span],
  );
}

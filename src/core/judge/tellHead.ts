/**
 * Whether the rider's face is turned to the camera: the visor shows as a dark band across nearly all of the helmet, its middle near
 * the helmet's, with lighter shell above it. A mirrored visor, or a dark helmet, shows no such band, and nothing is said; that the
 * face is turned away is never said.
 */
import type { RgbImage } from '../measure/index.js';
import type { Absent, Box } from '../measure/types.js';
import { boundsOf, largestPiece, type OnGrid } from './onGrid.js';
import type { Towards } from './types.js';

/** The helmet is looked at on a square of so many cells, each the mean of its pixels. */
const EDGE = 40;
/** Around the helmet's outline, of it. */
const MARGIN = 0.1;
/** Narrower than this in pixels, no band can be told from a shadow. */
const LEAST_PX = 24;
/** A helmet of less than this share of bike and rider is partly hidden, and what shows of it is no measure of its middle. */
const LEAST_SHARE = 0.05;
/** Of what was taken for helmet; the rest lies elsewhere. */
const LEAST_TOGETHER = 0.7;
/** Dark is a brightest channel of less than half of the shell's, and never above this. */
const OF_SHELL = 0.5;
const SHELL_AT = 0.7;
const DARK_UP_TO = 110;
const BAND = {
  leastShare: 0.2,
  mostShare: 0.52,
  /** Of the helmet's extent along the band. */
  leastWidth: 0.75,
  /** Of its half: how far the band's middle lies from the helmet's, along the band and across it. */
  aside: 0.3,
  above: 0.15,
  below: 0.62,
  /** From level. */
  mostTiltDeg: 30,
  /** Helmet over the band, of the helmet. */
  leastShellAbove: 0.2,
  /** Spread along over spread across. */
  leastLong: 1.5,
} as const;

/** @param grid over the whole of the picture. What is said is 0–1 of the picture. */
export function tellHead(
  grid: OnGrid & { readonly onHead: (cell: number) => number },
  picture: RgbImage,
): Towards | Absent<'no-helmet' | 'too-small' | 'no-visor-seen'> {
  const helmet = largestPiece(grid, (cell) => grid.onHead(cell) > ON_HEAD);
  if (helmet === null || helmet.share < LEAST_TOGETHER) return { kind: 'absent', reason: 'no-helmet' };
  const bike = largestPiece(grid, grid.isBike);
  if (bike === null || helmet.cells.length < LEAST_SHARE * bike.cells.length)
    return { kind: 'absent', reason: 'no-helmet' };
  const at = squareAround(grid, helmet.has);
  if (Math.min(at[2] * picture.width, at[3] * picture.height) < LEAST_PX)
    return { kind: 'absent', reason: 'too-small' };
  const brightest = brightestOver(picture, at);
  const isHelmet = (cell: number): boolean => {
    const x = at[0] + (((cell % EDGE) + 0.5) / EDGE) * at[2];
    const y = at[1] + ((Math.floor(cell / EDGE) + 0.5) / EDGE) * at[3];
    return helmet.has(Math.floor(y * grid.rows) * grid.columns + Math.floor(x * grid.columns));
  };
  const band = darkBand(brightest, isHelmet);
  if (band === null) return { kind: 'absent', reason: 'no-visor-seen' };
  const { left, top, right, bottom } = band;
  return {
    kind: 'towards',
    where: [
      at[0] + (left / EDGE) * at[2],
      at[1] + (top / EDGE) * at[3],
      ((right + 1 - left) / EDGE) * at[2],
      ((bottom + 1 - top) / EDGE) * at[3],
    ],
  };
}

const ON_HEAD = 0.35;

/** The helmet's bounds and a margin, within the picture. */
function squareAround(grid: OnGrid, isHelmet: (cell: number) => boolean): Box {
  const { left, right, top, bottom } = boundsOf(grid, isHelmet)!;
  const [marginX, marginY] = [MARGIN * (right + 1 - left), MARGIN * (bottom + 1 - top)];
  const from = [Math.max(0, left - marginX) / grid.columns, Math.max(0, top - marginY) / grid.rows] as const;
  const to = [
    Math.min(grid.columns, right + 1 + marginX) / grid.columns,
    Math.min(grid.rows, bottom + 1 + marginY) / grid.rows,
  ] as const;
  return [from[0], from[1], to[0] - from[0], to[1] - from[1]];
}

/** The brightest of the mean channels, cell by cell. */
function brightestOver({ data, width, height }: RgbImage, [left, top, across, down]: Box): Float32Array {
  const along = (from: number, extent: number, size: number, step: number): number =>
    Math.min(size - 1, Math.floor((from + (step / EDGE) * extent) * size));
  return Float32Array.from({ length: EDGE * EDGE }, (_, cell) => {
    const [column, row] = [cell % EDGE, Math.floor(cell / EDGE)];
    const [x0, y0] = [along(left, across, width, column), along(top, down, height, row)];
    const x1 = Math.max(x0 + 1, along(left, across, width, column + 1));
    const y1 = Math.max(y0 + 1, along(top, down, height, row + 1));
    const sums: [number, number, number] = [0, 0, 0];
    for (let y = y0; y < y1; y += 1)
      for (let x = x0; x < x1; x += 1) for (const c of [0, 1, 2] as const) sums[c] += data[(y * width + x) * 3 + c]!;
    return Math.max(...sums) / ((x1 - x0) * (y1 - y0));
  });
}

const SQUARE = { columns: EDGE, rows: EDGE } as const;

function darkBand(brightest: Float32Array, isHelmet: (cell: number) => boolean): ReturnType<typeof boundsOf> {
  const cells = Array.from(brightest.keys()).filter(isHelmet);
  const shell = valueAt(
    cells.map((cell) => brightest[cell]!),
    SHELL_AT,
  );
  const isDark = (cell: number): boolean => isHelmet(cell) && brightest[cell]! < Math.min(DARK_UP_TO, OF_SHELL * shell);
  const band = largestPiece(SQUARE, withoutThreads(isDark));
  if (band === null || !isVisor(cells, band.cells, band.has)) return null;
  return boundsOf(SQUARE, band.has);
}

/** Less than three cells wide is a rim or a line of the paint. */
function withoutThreads(isDark: (cell: number) => boolean): (cell: number) => boolean {
  const around = (cell: number): readonly number[] =>
    [-EDGE - 1, -EDGE, -EDGE + 1, -1, 0, 1, EDGE - 1, EDGE, EDGE + 1].map((step) => cell + step);
  const isInner = (cell: number): boolean => {
    const [x, y] = [cell % EDGE, Math.floor(cell / EDGE)];
    return x > 0 && y > 0 && x < EDGE - 1 && y < EDGE - 1 && around(cell).every(isDark);
  };
  const kept = new Set(
    Array.from({ length: EDGE * EDGE }, (_, cell) => cell)
      .filter(isInner)
      .flatMap(around),
  );
  return (cell) => kept.has(cell);
}

function isVisor(helmet: readonly number[], band: readonly number[], isBand: (cell: number) => boolean): boolean {
  const share = band.length / helmet.length;
  if (share < BAND.leastShare || share > BAND.mostShare) return false;
  const { tilt, long } = directionOf(band);
  if (Math.abs(tilt) > (BAND.mostTiltDeg * Math.PI) / 180 || long < BAND.leastLong) return false;
  const [cos, sin] = [Math.cos(tilt), Math.sin(tilt)];
  const along = (cell: number): number => cos * (cell % EDGE) + sin * Math.floor(cell / EDGE);
  const across = (cell: number): number => -sin * (cell % EDGE) + cos * Math.floor(cell / EDGE);
  const extent = (of: readonly number[]): number => valueAt(of, 0.98) - valueAt(of, 0.02);
  const [helmetAlong, bandAlong] = [helmet.map(along), band.map(along)];
  const [helmetAcross, bandAcross] = [helmet.map(across), band.map(across)];
  const [length, breadth] = [extent(helmetAlong), extent(helmetAcross)];
  const aside = (mean(bandAlong) - mean(helmetAlong)) / (length / 2);
  const lower = (mean(bandAcross) - mean(helmetAcross)) / (breadth / 2);
  const top = Math.min(...bandAcross) + UPPER * (Math.max(...bandAcross) - Math.min(...bandAcross));
  const above = helmet.filter((cell) => !isBand(cell) && across(cell) < top).length / helmet.length;
  return (
    extent(bandAlong) >= BAND.leastWidth * length &&
    Math.abs(aside) <= BAND.aside &&
    lower >= -BAND.above &&
    lower <= BAND.below &&
    above >= BAND.leastShellAbove
  );
}

/** Down to so much of the band from its top, what is not band is shell above it. */
const UPPER = 0.3;

/** Of the longest spread, from level, and how many times it is the spread across. */
function directionOf(cells: readonly number[]): { readonly tilt: number; readonly long: number } {
  const [x, y] = [cells.map((cell) => cell % EDGE), cells.map((cell) => Math.floor(cell / EDGE))];
  const [middleX, middleY] = [mean(x), mean(y)];
  const xx = mean(x.map((one) => (one - middleX) ** 2));
  const yy = mean(y.map((one) => (one - middleY) ** 2));
  const xy = mean(x.map((one, at) => (one - middleX) * (y[at]! - middleY)));
  const half = Math.hypot((xx - yy) / 2, xy);
  const [most, least] = [(xx + yy) / 2 + half, (xx + yy) / 2 - half];
  return { tilt: Math.atan2(2 * xy, xx - yy) / 2, long: Math.sqrt(most / Math.max(1e-6, least)) };
}

const mean = (of: readonly number[]): number => of.reduce((sum, one) => sum + one, 0) / of.length;

/** The value below which the share lies. */
function valueAt(of: readonly number[], share: number): number {
  const sorted = [...of].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
}

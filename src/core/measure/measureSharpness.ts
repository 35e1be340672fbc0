/**
 * Sharpness of the subject by direction: energy of brightness differences one pixel apart, less the noise's, over the
 * variance of brightness over the subject, so that livery and light cancel.
 * Motion blurs along its own direction and leaves the edges parallel to it sharp; missed focus blurs all alike: that
 * tells the two apart (a single measure such as the variance of the Laplacian cannot: J. L. Pech-Pacheco et al., ICPR
 * 2000). Values hold within one scale, lens and subject: they rank the frames of a burst, never against a threshold.
 */
import type { GreyImage } from '../numeric/blur.js';
import type { Absent, Sharpness } from './types.js';

const FAR = 8;
const TILE = 16;
/** Every third row is looked at: the energies stay the same at a third of the cost. */
const ROW_STEP = 3;
/** Fewer pixels of structure looked at than this say nothing. */
const LEAST_PIXELS = 150;
/** Structure: contrast this many times the noise's, and this many code values. */
const LEAST_CONTRAST_TO_NOISE = 4;
const LEAST_CONTRAST = 3;
/** Least value reported, so that ratios stay finite. */
const FLOOR = 1e-4;

/** [x, y] one step in each direction. */
const DIRECTIONS = { alongX: [1, 0], alongY: [0, 1], alongDown: [1, 1], alongUp: [1, -1] } as const;
type Direction = keyof typeof DIRECTIONS;
const ORDER = ['alongX', 'alongDown', 'alongY', 'alongUp'] as const satisfies readonly Direction[];

/** The subject's mask, coarser than the cut-out: its pixel (x, y) lies in the cell `rows[y] * width + columns[x]`. */
export interface CoarseMask {
  /** Probability 0–1 that a cell is the subject. */
  readonly inside: Float32Array;
  /** Cells in a row. */
  readonly width: number;
  readonly columns: Int32Array;
  readonly rows: Int32Array;
}

/**
 * @param scalePx long edge of the picture the cut-out comes from
 * @param mask all of the cut-out where absent
 */
export function measureSharpness(grey: GreyImage, scalePx: number, mask?: CoarseMask): Sharpness | Absent {
  if (grey.width < 2 * TILE || grey.height < 2 * TILE) return { kind: 'absent', reason: 'subject-too-small' };
  const noise = noiseVariance(grey);
  const sums = { alongX: 0, alongDown: 0, alongY: 0, alongUp: 0, brightness: 0, squares: 0, pixels: 0 };
  for (let top = FAR; top + TILE + FAR <= grey.height; top += TILE) {
    for (let left = FAR; left + TILE + FAR <= grey.width; left += TILE) addTile(sums, grey, left, top, noise, mask);
  }
  if (sums.pixels < LEAST_PIXELS) return { kind: 'absent', reason: 'no-structure' };
  const contrast = sums.squares - sums.brightness ** 2 / sums.pixels - noise * sums.pixels;
  const value = (direction: Direction) =>
    Math.max(FLOOR, (sums[direction] - 2 * noise * sums.pixels) / Math.max(1, contrast));
  const [alongX, alongDown, alongY, alongUp] = [value('alongX'), value('alongDown'), value('alongY'), value('alongUp')];
  // The harmonic mean listens to the worst direction: a frame blurred one way only is still blurred.
  const overall = 4 / (1 / alongX + 1 / alongDown + 1 / alongY + 1 / alongUp);
  return { alongX, alongY, alongDown, alongUp, overall, scalePx };
}

type Sums = Record<Direction | 'brightness' | 'squares' | 'pixels', number>;

const LEAST_INSIDE = 0.5;

/** Adds a tile's energies where it lies mostly on the subject and has structure. */
function addTile(
  sums: Sums,
  { data, width }: GreyImage,
  left: number,
  top: number,
  noise: number,
  mask: CoarseMask | undefined,
): void {
  let [x, down, y, up, contrast, brightness, squares, pixels] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let row = top; row < top + TILE; row += ROW_STEP) {
    const cells = mask ? mask.rows[row]! * mask.width : 0;
    for (let column = left; column < left + TILE; column += 1) {
      if (mask && mask.inside[cells + mask.columns[column]!]! < LEAST_INSIDE) continue;
      const index = row * width + column;
      const here = data[index]!;
      x += square(data[index + 1]! - here);
      down += square(data[index + width + 1]! - here);
      y += square(data[index + width]! - here);
      up += square(data[index - width + 1]! - here);
      contrast += square(data[index + FAR]! - here) + square(data[index + FAR * width]! - here);
      brightness += here;
      squares += here * here;
      pixels += 1;
    }
  }
  contrast /= 2;
  if (
    pixels < (TILE * TILE) / (4 * ROW_STEP) ||
    contrast < pixels * (LEAST_CONTRAST_TO_NOISE * noise + LEAST_CONTRAST ** 2)
  )
    return;
  sums.alongX += x;
  sums.alongDown += down;
  sums.alongY += y;
  sums.alongUp += up;
  sums.brightness += brightness;
  sums.squares += squares;
  sums.pixels += pixels;
}

const square = (value: number): number => value * value;

/** A variance from 64 values scatters by √(2/64); the tenth percentile of such lies 1.28 of that below the mean. */
const FLATTEST_TENTH_BIAS = 1 - 1.28 * Math.sqrt(2 / 64);

/** Variance of the noise: J. Immerkær, "Fast Noise Variance Estimation", CVIU 64(2), 1996, on the flattest tenth of the tiles. */
export function noiseVariance({ data, width, height }: GreyImage): number {
  const tiles: number[] = [];
  for (let top = 1; top + TILE < height; top += TILE) {
    for (let left = 1; left + TILE < width; left += TILE) {
      let sum = 0;
      for (let y = top; y < top + TILE; y += 2) {
        for (let index = y * width + left, end = index + TILE; index < end; index += 2) {
          const up = index - width;
          const down = index + width;
          const value =
            4 * data[index]! -
            2 * (data[up]! + data[down]! + data[index - 1]! + data[index + 1]!) +
            (data[up - 1]! + data[up + 1]! + data[down - 1]! + data[down + 1]!);
          sum += value * value;
        }
      }
      // The mask's squared weights sum to 36.
      tiles.push(sum / ((TILE * TILE) / 4) / 36);
    }
  }
  return (tiles.sort((a, b) => a - b)[Math.floor(tiles.length / 10)] ?? 0) / FLATTEST_TENTH_BIAS;
}

export type BlurKind =
  | { readonly kind: 'sharp' }
  /** Direction of the motion from the x axis, degrees, y down. */
  | { readonly kind: 'motion'; readonly directionDeg: 0 | 45 | 90 | 135 }
  | { readonly kind: 'defocus' };

/** Keeps this share of the burst's best energy in every direction: as sharp as it gets. */
const SHARP_SHARE = 0.6;
/** One direction loses this many times more than the one across it: motion. */
const MOTION_RATIO = 1.6;

/** Tells motion blur from missed focus, against the sharpest frame of the same burst at the same scale. */
export function tellBlur(sharpness: Sharpness, best: Sharpness): BlurKind {
  const shares = ORDER.map((direction) => (sharpness[direction] ?? 1) / (best[direction] ?? 1));
  const worst = shares.indexOf(Math.min(...shares));
  if (shares[worst]! >= SHARP_SHARE) return { kind: 'sharp' };
  const across = shares[(worst + 2) % 4]!;
  if (across < MOTION_RATIO * shares[worst]!) return { kind: 'defocus' };
  return { kind: 'motion', directionDeg: ([0, 45, 90, 135] as const)[worst]! };
}

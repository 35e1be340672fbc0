/**
 * Sharpness of the subject by direction. For each direction the energy of differences one pixel apart is divided by that
 * of differences four pixels apart (each less the noise): an edge sharper than a pixel gives about 1/4, one blurred wider
 * than four pixels 1/16, whatever its contrast. Contrast, livery and light so cancel; only edges' width remains.
 * Motion blurs along its own direction and leaves the edges parallel to it sharp; missed focus blurs all alike, which
 * tells the two apart (compare J. Pech-Pacheco et al., ICPR 2000, whose variance of the Laplacian does not).
 * Values hold within one scale and one lens: rank within a burst, never against a fixed threshold.
 */
import type { GreyImage } from '../numeric/blur.js';
import type { Absent, Sharpness } from './types.js';

const FAR = 4;
const TILE = 16;
/** Reported values are scaled so that a step edge within one pixel gives 1 and a wide blur 0.25. */
const STEP_EDGE = 4;
/** The sharpest part of the subject speaks for it: wheels turn, and a pan keeps only one depth sharp. */
const RANK = 0.7;
/** Fewer pixels of structure than this say nothing. */
const LEAST_PIXELS = 400;

/** [x, y] one step in each direction. */
const DIRECTIONS = { alongX: [1, 0], alongY: [0, 1], alongDown: [1, 1], alongUp: [1, -1] } as const;
type Direction = keyof typeof DIRECTIONS;

/**
 * @param inside weight 0–1 of each pixel (the subject's mask), same size; all of it where absent
 * @param scalePx long edge of the picture the cut-out comes from
 */
export function measureSharpness(grey: GreyImage, scalePx: number, inside?: Float32Array): Sharpness | Absent {
  if (grey.width < 2 * TILE || grey.height < 2 * TILE) return { kind: 'absent', reason: 'subject-too-small' };
  const noise = noiseVariance(grey);
  const value = (direction: Direction) => edgeWidthRatio(grey, DIRECTIONS[direction], noise, inside);
  const [alongX, alongY, alongDown, alongUp] = [value('alongX'), value('alongY'), value('alongDown'), value('alongUp')];
  if (alongX === null || alongY === null || alongDown === null || alongUp === null) {
    return { kind: 'absent', reason: 'no-structure' };
  }
  const overall = 4 / (1 / alongX + 1 / alongY + 1 / alongDown + 1 / alongUp);
  return { alongX, alongY, alongDown, alongUp, overall, scalePx };
}

interface TileSums {
  readonly ratio: number;
  readonly weight: number;
}

function edgeWidthRatio(
  grey: GreyImage,
  step: readonly [number, number],
  noise: number,
  inside: Float32Array | undefined,
): number | null {
  const tiles: TileSums[] = [];
  let pixels = 0;
  for (let top = FAR; top + TILE + FAR <= grey.height; top += TILE) {
    for (let left = FAR; left + TILE + FAR <= grey.width; left += TILE) {
      const { near, far, count } = tileEnergy(grey, left, top, step, inside);
      if (count < (TILE * TILE) / 4) continue;
      const [cleanNear, cleanFar] = [near - 2 * noise * count, far - 2 * noise * count];
      // Twice the noise again: below that there is no edge in the tile.
      if (cleanFar < 4 * noise * count + count) continue;
      pixels += count;
      tiles.push({ ratio: Math.max(1 / 64, cleanNear / cleanFar), weight: cleanFar });
    }
  }
  return pixels < LEAST_PIXELS ? null : STEP_EDGE * weightedRank(tiles, RANK);
}

function tileEnergy(
  { data, width }: GreyImage,
  left: number,
  top: number,
  [stepX, stepY]: readonly [number, number],
  inside: Float32Array | undefined,
) {
  const nearStep = stepY * width + stepX;
  const farStep = FAR * nearStep;
  let [near, far, count] = [0, 0, 0];
  for (let y = top; y < top + TILE; y += 1) {
    for (let index = y * width + left, end = index + TILE; index < end; index += 1) {
      if (inside && inside[index]! < 0.5) continue;
      const here = data[index]!;
      near += (data[index + nearStep]! - here) ** 2;
      far += (data[index + farStep]! - here) ** 2;
      count += 1;
    }
  }
  return { near, far, count };
}

/** The ratio below which `rank` of the weight lies. */
function weightedRank(tiles: readonly TileSums[], rank: number): number {
  const sorted = [...tiles].sort((a, b) => a.ratio - b.ratio);
  const total = sorted.reduce((sum, { weight }) => sum + weight, 0);
  let below = 0;
  for (const { ratio, weight } of sorted) {
    below += weight;
    if (below >= rank * total) return ratio;
  }
  return sorted.at(-1)?.ratio ?? 0;
}

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
  return tiles.sort((a, b) => a - b)[Math.floor(tiles.length / 10)] ?? 0;
}

export type BlurKind =
  | { readonly kind: 'sharp' }
  /** Direction of the motion from the x axis, degrees, y down. */
  | { readonly kind: 'motion'; readonly directionDeg: 0 | 45 | 90 | 135 }
  | { readonly kind: 'defocus' };

/** Keeps this share of the burst's best in every direction: as sharp as it gets. */
const SHARP_SHARE = 0.75;
/** One direction loses this many times more than the one across it: motion. */
const MOTION_RATIO = 1.35;

/** Tells motion blur from missed focus, against the sharpest frame of the same burst at the same scale. */
export function tellBlur(sharpness: Sharpness, best: Sharpness): BlurKind {
  const share = (direction: Direction) => (sharpness[direction] ?? 1) / (best[direction] ?? 1);
  const shares = [share('alongX'), share('alongDown'), share('alongY'), share('alongUp')];
  const worst = shares.indexOf(Math.min(...shares));
  if (shares[worst]! >= SHARP_SHARE) return { kind: 'sharp' };
  const across = shares[(worst + 2) % 4]!;
  if (across / shares[worst]! < MOTION_RATIO) return { kind: 'defocus' };
  return { kind: 'motion', directionDeg: ([0, 45, 90, 135] as const)[worst]! };
}

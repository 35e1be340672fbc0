/**
 * Whitening of descriptors on the meeting's own frames: what varies from frame to frame of every bike alike (light, view)
 * is scaled down, so that the small differences between bikes count. H. Jégou, O. Chum, "Negative evidences and
 * co-occurrences in image retrieval", ECCV 2012. Which parts to join, and how heavily, is in the measured table of the
 * vision notes: rows of Lab, block 9, and block 13 at 0.7.
 */
import { principalDirections } from '../numeric/linalg.js';
import { type DescriptorParts, normalise } from './describeBike.js';

/** Turns raw vectors into whitened ones of unit length. */
export type Whitening = (vector: ArrayLike<number>) => Float32Array;

/** Variance below this share of the largest is noise and is not blown up. */
const NOISE_SHARE = 1e-3;
/** Enough to know a few hundred dimensions' main directions; more only costs time. */
const MOST_SAMPLES = 2000;

/** @param directions kept at most; fewer where there are few samples */
export function fitWhitening(samples: readonly ArrayLike<number>[], directions: number): Whitening {
  const step = Math.max(1, Math.ceil(samples.length / MOST_SAMPLES));
  const fitted = principalDirections(
    samples.filter((_, index) => index % step === 0),
    directions,
  );
  const floor = NOISE_SHARE * (fitted.variances[0] ?? 1);
  const scales = fitted.variances.map((variance) => 1 / Math.sqrt(variance + floor));
  return (vector) =>
    normalise(
      Float32Array.from(fitted.directions, (direction, index) => {
        let sum = 0;
        for (let at = 0; at < direction.length; at += 1) sum += direction[at]! * (vector[at]! - fitted.mean[at]!);
        return sum * scales[index]!;
      }),
    );
}

const LAB_DIRECTIONS = 48;
const BLOCK_DIRECTIONS = 96;
const BLOCK_13_WEIGHT = 0.7;

/** Fits all parts on a meeting's descriptors and returns the joint unit vector of one; dot products compare bikes. */
export function fitDescriptorWhitening(all: readonly DescriptorParts[]): (parts: DescriptorParts) => Float32Array {
  const withBlocks = all.filter(hasBlocks);
  const lab = fitWhitening(
    all.map((parts) => parts.lab),
    LAB_DIRECTIONS,
  );
  const block9 = fitWhitening(
    withBlocks.map((parts) => parts.block9),
    BLOCK_DIRECTIONS,
  );
  const block13 = fitWhitening(
    withBlocks.map((parts) => parts.block13),
    BLOCK_DIRECTIONS,
  );
  return (parts) => {
    const colours = lab(parts.lab);
    if (!hasBlocks(parts)) return colours;
    const shapes = block13(parts.block13).map((value) => BLOCK_13_WEIGHT * value);
    return normalise(Float32Array.from([...colours, ...block9(parts.block9), ...shapes]));
  };
}

const hasBlocks = (parts: DescriptorParts): parts is Required<DescriptorParts> =>
  parts.block9 !== undefined && parts.block13 !== undefined;

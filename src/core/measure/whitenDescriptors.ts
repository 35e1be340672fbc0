/**
 * Whitening of descriptors on the meeting's own frames: what varies from frame to frame of every bike alike (light, view)
 * is scaled down, so that the small differences between bikes count. H. Jégou, O. Chum, "Negative evidences and
 * co-occurrences in image retrieval", ECCV 2012. The taught part is left as it is: its directions were made to count.
 * Parts weigh alike; block 13, of what things are rather than which, weighs 0.7. These are round numbers, looked at on the
 * invented meeting and on two-camera pairs.
 */
import { principalDirections } from '../numeric/linalg.js';
import { type DescriptorParts, normalise } from './describeBike.js';

/** Turns raw vectors into whitened ones of unit length. */
export type Whitening = (vector: ArrayLike<number>) => Float32Array;

/** Variance below this share of the largest is noise and is not blown up. */
const NOISE_SHARE = 1e-3;
/** Enough to know a few hundred dimensions' main directions; more only costs time. */
const MOST_SAMPLES = 2000;

/**
 * @param directions kept at most; fewer where there are few samples
 * @param strength 1 gives every direction the same variance, 0 leaves them as they are
 */
export function fitWhitening(samples: readonly ArrayLike<number>[], directions: number, strength = 1): Whitening {
  const step = Math.max(1, Math.ceil(samples.length / MOST_SAMPLES));
  const fitted = principalDirections(
    samples.filter((_, index) => index % step === 0),
    directions,
  );
  const floor = NOISE_SHARE * (fitted.variances[0] ?? 1);
  const scales = fitted.variances.map((variance) => (variance + floor) ** (-strength / 2));
  return (vector) =>
    normalise(
      Float32Array.from(fitted.directions, (direction, index) => {
        let sum = 0;
        for (let at = 0; at < direction.length; at += 1) sum += direction[at]! * (vector[at]! - fitted.mean[at]!);
        return sum * scales[index]!;
      }),
    );
}

type PartName = keyof DescriptorParts;

interface Manner {
  readonly directions: number;
  readonly strength: number;
  readonly weight: number;
}

const MANNERS: Readonly<Record<PartName, Manner>> = {
  lab: { directions: 48, strength: 1, weight: 1 },
  taught: { directions: 96, strength: 0, weight: 1 },
  block9: { directions: 96, strength: 1, weight: 1 },
  block13: { directions: 96, strength: 1, weight: 0.7 },
};

/** Passes at which a place's own mean counts as much as everybody's. */
const SHRINK = 8;

/** What all bikes of one session at one spot (or of one camera) share, light and view, is taken away. */
export function centredByPlace(vectors: readonly Float32Array[], places: readonly string[]): Float32Array[] {
  const whole = meanOf(vectors);
  const centres = new Map<string, Float32Array>();
  for (const place of new Set(places)) {
    const own = vectors.filter((_, index) => places[index] === place);
    const weight = own.length / (own.length + SHRINK);
    const mean = meanOf(own);
    centres.set(
      place,
      mean.map((value, at) => weight * value + (1 - weight) * whole[at]!),
    );
  }
  return vectors.map((vector, index) => {
    const centre = centres.get(places[index]!)!;
    return normalise(vector.map((value, at) => value - centre[at]!));
  });
}

function meanOf(vectors: readonly Float32Array[]): Float32Array {
  const mean = new Float32Array(vectors[0]?.length ?? 0);
  for (const vector of vectors) for (let at = 0; at < mean.length; at += 1) mean[at]! += vector[at]! / vectors.length;
  return mean;
}

/** Fits all parts on a meeting's descriptors and returns the joint unit vector of one; dot products compare bikes. */
export function fitDescriptorWhitening(all: readonly DescriptorParts[]): (parts: DescriptorParts) => Float32Array {
  const fitted = (Object.keys(MANNERS) as PartName[]).map((name) => {
    const { directions, strength, weight } = MANNERS[name];
    const samples = all.flatMap((parts) => parts[name] ?? []);
    return { name, weight, whiten: fitWhitening(samples, directions, strength) };
  });
  return (parts) =>
    normalise(
      Float32Array.from(
        fitted.flatMap(({ name, weight, whiten }) => {
          const part = parts[name];
          return part ? Array.from(whiten(part), (value) => weight * value) : [];
        }),
      ),
    );
}

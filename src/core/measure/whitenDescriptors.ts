/**
 * Whitening of descriptors on the meeting's own frames: what varies from frame to frame of every bike alike (light, view)
 * is scaled down, so that the small differences between bikes count. H. Jégou, O. Chum, "Negative evidences and
 * co-occurrences in image retrieval", ECCV 2012. The taught part is whitened by half: its directions have been made to
 * count already, on rendered bikes, and real ones need some of it. Parts weigh alike; block 13, of what things are rather
 * than which, weighs 0.7. These are round numbers, looked at on the two-camera pairs and on the invented meeting.
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
  taught: { directions: 96, strength: 0.5, weight: 1 },
  block9: { directions: 96, strength: 1, weight: 1 },
  block13: { directions: 96, strength: 1, weight: 0.7 },
};

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

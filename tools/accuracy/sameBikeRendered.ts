/**
 * Same-bike descriptor on the invented meeting's frames, measured as the program measures them: is the nearest frame of any
 * other session the same rider's? Frames of one session are left out, for bursts would answer for themselves. Descriptors
 * are joined as on the two-camera pairs.
 */
import { readTruth } from '../../demo/day/truth.js';
import { keptFrame } from '../../demo/frames.js';
import type { TrueFrame } from '../../demo/truthTypes.js';
import { overlapOf } from '../../src/core/measure/decodeDetections.js';
import { type DescriptorParts, descriptorParts } from '../../src/core/measure/index.js';
import type { Subject } from '../../src/core/measure/types.js';
import { centredByPlace, fitDescriptorWhitening } from '../../src/core/measure/whitenDescriptors.js';
import { dot } from '../../src/core/numeric/linalg.js';
import { openVision, type Vision } from '../../src/host/vision/index.js';
import { measurePicture } from './measurePicture.js';
import type { PhotosAccuracy } from './part.js';

/** A found bike is the true one it overlaps this much with. */
const LEAST_OVERLAP = 0.4;

interface KnownBike {
  readonly rider: string;
  readonly session: string;
  readonly parts: DescriptorParts;
}

async function bikesOf(vision: Vision, frame: TrueFrame): Promise<KnownBike[]> {
  const measured = await measurePicture(vision, await keptFrame(frame.picture!));
  if (measured.kind !== 'measured') throw new Error(`Expected ${frame.picture} to be readable: ${measured.reason}`);
  return measured.subjects
    .filter(({ what }) => what === 'motorcycle')
    .flatMap((subject) => {
      const rider = riderOf(subject, frame);
      const parts = descriptorParts(subject.descriptor);
      return rider === undefined ? [] : [{ rider, session: frame.session!, parts }];
    });
}

function riderOf({ box }: Subject, frame: TrueFrame): string | undefined {
  const [best] = frame.bikes
    .map((bike) => ({ rider: bike.rider, overlap: overlapOf(bike.box, box) }))
    .sort((a, b) => b.overlap - a.overlap);
  return best && best.overlap >= LEAST_OVERLAP ? best.rider : undefined;
}

/** Of those that appear in another session as well: the share whose nearest there is themselves. */
export function rankOneElsewhere(
  bikes: readonly { readonly rider: string; readonly session: string; readonly vector: Float32Array }[],
): { readonly share: number; readonly of: number } {
  let [hits, of] = [0, 0];
  for (const bike of bikes) {
    const elsewhere = bikes.filter(({ session }) => session !== bike.session);
    if (!elsewhere.some(({ rider }) => rider === bike.rider)) continue;
    of += 1;
    const likeness = elsewhere.map(({ vector }) => dot(bike.vector, vector));
    if (elsewhere[likeness.indexOf(Math.max(...likeness))]!.rider === bike.rider) hits += 1;
  }
  return { share: of === 0 ? 0 : hits / of, of };
}

export async function sameBikeRenderedAccuracy(): Promise<PhotosAccuracy> {
  const vision = await openVision();
  try {
    const bikes: KnownBike[] = [];
    for (const frame of (await readTruth()).frames) {
      if (frame.picture !== undefined && frame.session !== null && frame.bikes.length > 0)
        bikes.push(...(await bikesOf(vision, frame)));
    }
    const whitened = fitDescriptorWhitening(bikes.map(({ parts }) => parts));
    const joint = centredByPlace(
      bikes.map(({ parts }) => whitened(parts)),
      bikes.map(({ session }) => session),
    );
    const { share, of } = rankOneElsewhere(bikes.map((bike, index) => ({ ...bike, vector: joint[index]! })));
    const alone = rankOneElsewhere(bikes.map((bike) => ({ ...bike, vector: bike.parts.taught! })));
    const percent = (value: number) => `${(100 * value).toFixed(1)} %`;
    return {
      rows: [
        `nearest frame of another session is the same rider's for ${percent(share)} of ${of} bikes, joined as on real pairs (the network's numbers alone ${percent(alone.share)})`,
      ],
      figures: {
        'reid.rendersRank1': { value: share, unit: `of ${of} bikes`, better: 'higher', note: 'across sessions' },
      },
    };
  } finally {
    await vision.close();
  }
}

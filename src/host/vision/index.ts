/** Seeing: opens the networks and measures one picture. */
import { enlarged } from '../../core/measure/bikeSeen.js';
import { halve, type RgbImage, rectOf } from '../../core/measure/images.js';
import {
  type FrameFacts,
  type FrameMeasured,
  findSubjects,
  isWorthReading,
  MOST_READ,
  measurePixels,
  type SeenOfSubject,
} from '../../core/measure/index.js';
import type { Vision } from './openVision.js';
import { VisionError } from './VisionError.js';

export { refineSharpness } from '../../core/measure/index.js';
export { type Networks, openNetworks } from './openNetworks.js';
export { openVision, type Vision, visionThrough } from './openVision.js';
export { VisionError } from './VisionError.js';

/** Smaller than this no bike could be found, and the measures have nothing to stand on. */
const LEAST_EDGE = 16;

/** @param image upright sRGB, long edge about 1,024 px */
export async function measureImage(vision: Vision, image: RgbImage, facts: FrameFacts): Promise<FrameMeasured> {
  checkImage(image);
  const half = halve(image);
  const detections = await vision.detect(half);
  const seen: SeenOfSubject[] = [];
  let read = 0;
  for (const subject of findSubjects(detections)) {
    if (subject.what === 'person') seen.push({});
    else {
      const bike = await vision.lookAtBike(half, subject.box);
      const rect = rectOf(subject.box, image);
      if (read < MOST_READ && isWorthReading(rect)) {
        // The bike network knows motorcycles; where the number of anything else stands it cannot say.
        const parts = subject.what === 'motorcycle' ? enlarged(bike.parts, image.width / half.width) : undefined;
        seen.push({ bike, numbers: await vision.readNumbers(image, rect, parts) });
        read += 1;
      } else seen.push({ bike });
    }
  }
  return measurePixels(image, half, detections, seen, facts);
}

function checkImage({ data, width, height }: RgbImage): void {
  if (data.length !== 3 * width * height) {
    throw new VisionError(
      `Expected ${3 * width * height} bytes for ${width}×${height} RGB but got ${data.length}; decode the picture without alpha, to sRGB.`,
    );
  }
  if (width < LEAST_EDGE || height < LEAST_EDGE) {
    throw new VisionError(
      `Expected a picture of at least ${LEAST_EDGE}×${LEAST_EDGE} pixels but got ${width}×${height}; use a larger preview or the main image.`,
    );
  }
}

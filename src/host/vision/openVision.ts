/** What the networks see in a picture: prepares their inputs and reads their outputs. */
import { LEAST_DETECTION_SCORE, MOST_OVERLAP } from '../../core/measure/assembleSubjects.js';
import { type BikeSeen, PARTS_EDGE, type PartsSeen, SEEN_MARGIN } from '../../core/measure/bikeSeen.js';
import { type Detection, decodeDetections, suppressOverlaps } from '../../core/measure/decodeDetections.js';
import { type PixelRect, type RgbImage, rectOf, resize, wholeRect } from '../../core/measure/images.js';
import {
  cutPart,
  joinLooks,
  mirror,
  mirrorBack,
  partBesideBike,
  partToLookAgain,
  partToLookAtSmaller,
} from '../../core/measure/lookAgain.js';
import { readNumbers } from '../../core/measure/numbers/index.js';
import type { Box, NumberReading } from '../../core/measure/types.js';
import { BIKE_EDGE_PX, DETECTOR_EDGE_PX, type Networks, openNetworks } from './openNetworks.js';

export interface Vision {
  /** Bikes, people, cars and bicycles at score ≥ 0.15, overlaps suppressed; boxes 0–1. The picture must be upright. */
  detect(image: RgbImage): Promise<Detection[]>;
  /** The mask of a bike with its rider, and what tells it from another. */
  lookAtBike(image: RgbImage, box: Box): Promise<BikeSeen>;
  /**
   * Race numbers on one subject, surest first; the picture in its full size, for digits are small.
   * @param parts in pixels of this picture: what is known to be bike, and where alone its number can be
   */
  readNumbers(image: RgbImage, rect: PixelRect, parts?: PartsSeen): Promise<NumberReading[]>;
  close(): Promise<void>;
}

export const openVision = async (): Promise<Vision> => visionThrough(await openNetworks());

/** Closing it closes the networks. */
export function visionThrough(networks: Networks): Vision {
  const detectorInput = new Float32Array(3 * DETECTOR_EDGE_PX ** 2);
  const bikeInput = new Float32Array(3 * BIKE_EDGE_PX ** 2);
  const look = async (image: RgbImage) => {
    const picture = resize(image, wholeRect(image), DETECTOR_EDGE_PX, DETECTOR_EDGE_PX);
    const { boxes, scores } = await networks.detect(fill(detectorInput, picture));
    return suppressOverlaps(decodeDetections(boxes, scores, LEAST_DETECTION_SCORE), MOST_OVERLAP);
  };
  return {
    async detect(image) {
      const first = await look(image);
      const part = partToLookAgain(first, image) ?? partBesideBike(first, image);
      const second = part ? joinLooks(first, await look(cutPart(image, part)), part, image, MOST_OVERLAP) : first;
      const whole = partToLookAtSmaller(second, image);
      if (!whole) return second;
      const third = mirrorBack(await look(mirror(cutPart(image, whole))));
      return joinLooks(second, third, whole, image, MOST_OVERLAP);
    },
    async lookAtBike(image, box) {
      const rect = rectOf(box, image, SEEN_MARGIN);
      const { parts, ...features } = await networks.lookAtBike(
        fill(bikeInput, resize(image, rect, BIKE_EDGE_PX, BIKE_EDGE_PX)),
      );
      const plane = (index: number) => parts.subarray(index * PARTS_EDGE ** 2, (index + 1) * PARTS_EDGE ** 2);
      return { parts: { rect, whole: plane(0), clothes: plane(1), helmet: plane(2) }, features };
    },
    readNumbers: (image, rect, parts) => readNumbers(image, rect, networks.findDigits, parts),
    close: () => networks.close(),
  };
}

/** Code value 0–255 to the −1…1 the networks were trained on. */
const NETWORK_VALUE = Float32Array.from({ length: 256 }, (_, code) => code / 127.5 - 1);

/** By a loop: `Float32Array.from` with a function costs as much as the inference itself. */
function fill(values: Float32Array, { data }: RgbImage): Float32Array {
  for (let index = 0; index < data.length; index += 1) values[index] = NETWORK_VALUE[data[index]!]!;
  return values;
}

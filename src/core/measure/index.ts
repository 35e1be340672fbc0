/** What other stages, the host and the tools call. `tellBlur`, `sceneVector` and the versions stand in their own files. */

export type { BikeFeatures, BikeSeen } from './bikeSeen.js';
export type { Detection } from './decodeDetections.js';
export { type DescriptorParts, descriptorParts } from './describeBike.js';
export { isFluorescent } from './fluorescent.js';
export type { GreyImage, RgbImage } from './images.js';
export {
  type FrameFacts,
  type FullCrop,
  findSubjects,
  measurePixels,
  refineSharpness,
  type SeenOfSubject,
} from './measurePixels.js';
export { areNeighbours, fluorescent, foundUnder, neighboursOf, ordinaryOf } from './nameColour.js';
export { isWorthReading, MOST_READ } from './numbers/index.js';
export type * from './types.js';

export type { Detection } from './decodeDetections.js';
export { type BackboneFeatures, type DescriptorParts, descriptorParts } from './describeBike.js';
export { sceneVector } from './describeScene.js';
export type { GreyImage, RgbImage } from './images.js';
export {
  type FrameFacts,
  type FullCrop,
  findSubjects,
  MOST_SUBJECTS,
  measurePixels,
  refineSharpness,
} from './measurePixels.js';
export { type BlurKind, tellBlur } from './measureSharpness.js';
export { areNeighbours, nameColour } from './nameColour.js';
export type * from './types.js';
export { METADATA_VERSION, PIXELS_VERSION } from './versions.js';

/** Judging frames: full-resolution crops and the bike network, for the pure judge. */
export { boundCrops } from './boundCrops.js';
export { cropPath, isWholeCrop, keepCrop, rectName, rectOfName } from './crops.js';
export { type BikeToJudge, judgeFile, judgePicture } from './judgePicture.js';
export type { BurstFrame } from './smallFrames.js';

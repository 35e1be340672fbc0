/** Judging frames: full-resolution crops and the bike network, for the pure judge. */
export { type CropFile, cropPath, keepCrop, rectName, rectOfName } from './crops.js';
export { type BikeToJudge, judgeFile, judgePicture } from './judgePicture.js';

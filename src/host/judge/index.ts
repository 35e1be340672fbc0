/** Judging frames: full-resolution crops and the bike network, for the pure judge. */
export { judgeFile, judgePicture } from './judgePicture.js';

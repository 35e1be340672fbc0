export { c4OfDigest } from './c4.js';
export { isClip, isDcfPath, isStill, isUnderDcim, kindOfCard, parseDcfDirectory, parseDcfFile } from './dcf.js';
export { directoryHashes } from './directoryHashes.js';
export { formatVerdict } from './formatVerdict.js';
export { chainXml, manifestName, manifestXml } from './manifest.js';
export type * from './manifestTypes.js';
export { planCopy, recogniseFill } from './planCopy.js';
export { spaceNeeded } from './spaceNeeded.js';
export type * from './types.js';

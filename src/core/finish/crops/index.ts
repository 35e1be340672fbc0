/** Public names of crops and levelling. */
export { cropMoved, cropSized, cutsInto, largestCrop } from './byHand.js';
export { cropTo } from './cropTo.js';
export { headingOf, type PlaceThen } from './headingOf.js';
export { boxLevelled, boxTurned, levelledShare } from './level.js';
export type * from './types.js';

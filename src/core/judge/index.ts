/** What other stages, the host and the tools call. */
export { boxOfRect, cropAround, type PartSquare, type PictureSize, partSquares } from './closeCrops.js';
export { judgeFrame } from './judgeFrame.js';
export { type BlurSeen, tellBlurFrom } from './measureFineness.js';
export { looksTheSame, nearDuplicates, type Placed } from './nearDuplicates.js';
export { orderByWorth, type Worth } from './orderByWorth.js';
export { planJudging } from './planJudging.js';
export { isSameBike, judgedByBike, judgementOf } from './stored.js';
export { MOST_BETWEEN_MS, SIDE_EDGE_PX, type SmallFrame } from './tellSide.js';
export { type SizeThen, tellWay, type Way } from './tellWay.js';
export type * from './types.js';
export { JUDGE_VERSION } from './version.js';

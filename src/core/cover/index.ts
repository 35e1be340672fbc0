/** Public names of the coverage stage. */
export { COVERAGE_RULES, type CoverInput, cover } from './cover.js';
export {
  bikeKeyOf,
  GOOD_FRAME_RULES,
  isGoodFrame,
  type Judgements,
  judgeBikes,
  judgePasses,
  type PassJudgements,
  subjectOf,
} from './goodFrames.js';
export { spotsInUse } from './spotsInUse.js';
export { standsOf } from './stands.js';
export type * from './types.js';
export { type HeadCount, headCountsOf, unseenRiders } from './unseen.js';

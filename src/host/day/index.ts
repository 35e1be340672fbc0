/** The day: one meeting, open and alive. */
export type { MakeArranger } from './arranger.js';
export { type Derive, type Derived, derive, type KnownDay } from './derive.js';
export { leftOutSentences } from './leftOut.js';
export { type DayOptions, openDay } from './openDay.js';
export type * from './types.js';

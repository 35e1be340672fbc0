/** The plan again at lunch. */
export { AFTERNOON_AIM } from './aim.js';
export { takenStays } from './differences.js';
export type { OwedMorning } from './owed.js';
export { type AfternoonAsked, planAgain } from './planAgain.js';
export type * from './types.js';

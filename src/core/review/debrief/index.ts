/** What worked, afterwards. */
export { type BothRates, type ComparedMeetings, compareMeetings } from './compareMeetings.js';
export { type DebriefInput, debrief } from './debrief.js';
export type * from './types.js';

/** What worked, afterwards. */
export {
  type BothRates,
  type ComparedMeetings,
  type ComparedRates,
  compareMeetings,
  type NamedDebrief,
} from './compareMeetings.js';
export { type DebriefInput, debrief } from './debrief.js';
export type * from './types.js';
export { countedOf, gaveWords, howThingsStand, WENT } from './words.js';

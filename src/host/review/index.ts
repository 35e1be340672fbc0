/** What worked, of a meeting on disk. */
export { keepDebrief, readDebrief } from './debriefFile.js';
export { type DebriefOfDay, debriefOfDay } from './debriefOfDay.js';

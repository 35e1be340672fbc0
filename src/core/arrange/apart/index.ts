/** Frames of paddock, portraits, podium and briefing, kept apart from the sessions. */
export { apartOfDay } from './apartOfDay.js';
export { perhapsWalks } from './perhapsWalks.js';
export type { ApartOrNot } from './types.js';

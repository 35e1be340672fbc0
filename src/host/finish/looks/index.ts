/** Public names of looks carried out. */
export { applyLook, type Finished } from './applyLook.js';
export { finishesPathOf, isNamed, type KeptFinishes, openKeptFinishes } from './keptFinishes.js';
export { type LooksState, looksOfMeeting, planLooksOf } from './looksOfMeeting.js';

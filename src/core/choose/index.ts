/** Public names of the choosing stage. */
export { type ChooseInput, chooseKeepers, rememberingSets, setsOf } from './chooseKeepers.js';
export type { Taken } from './riderSet.js';
export { startChoosing } from './startChoosing.js';
export { takenWith } from './takenWith.js';
export type * from './types.js';

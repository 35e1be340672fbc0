/** Public names of the choosing stage. */
export { type ChooseInput, chooseKeepers } from './chooseKeepers.js';
export { startChoosing } from './startChoosing.js';
export { takenWith } from './takenWith.js';
export type * from './types.js';

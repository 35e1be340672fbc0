/** Public names of the choosing stage. */
export { CHOOSE_RULES, type ChooseInput, chooseKeepers } from './chooseKeepers.js';
export type * from './types.js';

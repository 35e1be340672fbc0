/** Public names of asking. */
export { screensOf } from './screens.js';
export type * from './types.js';

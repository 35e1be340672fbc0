/** Public names of frames brought to each other. */
export { aimOf, balanceFrames } from './balanceFrames.js';
export type * from './types.js';

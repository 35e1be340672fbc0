/** Dust on a sensor. */
export { findDust } from './findDust.js';
export type * from './types.js';

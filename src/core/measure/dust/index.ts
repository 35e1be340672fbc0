/** Dust on a sensor. */
export { findDust, type SecondLook } from './findDust.js';
export type * from './types.js';

/** The morning at lunch. */
export { type MorningInput, morningOf } from './morning.js';
export type * from './types.js';

/** What the kit did. */
export { kitRecords } from './kitRecords.js';
export type * from './types.js';

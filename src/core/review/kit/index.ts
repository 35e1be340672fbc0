/** What the kit did. */
export { bodyName, dustWords } from './dustWords.js';
export { kitRecords } from './kitRecords.js';
export { stockLeft } from './stockLeft.js';
export type * from './types.js';

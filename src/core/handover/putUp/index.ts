/** Public names of putting up. */
export { type Crawled, crawl } from './crawl.js';
export { type EditionOptions, editionOf, idsIn } from './editionOf.js';
export { firstEditionOf } from './firstEditionOf.js';
export { firstOf } from './firstOf.js';
export { type PutUpInput, planPutUp, planWithdrawal, UNFINISHED, type WithdrawalInput } from './planPutUp.js';
export { type Cost, costOf, costOfPlan, type Line, SLOW_LINE, untilFirstEntry } from './reckon.js';
export type * from './types.js';
export { withoutLines } from './withoutLines.js';

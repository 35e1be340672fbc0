export { type BringInOptions, type BringInReport, bringIn } from './bringIn.js';
export type { CardReport, FileCopied } from './bringInCard.js';
export { deviceOf } from './device.js';
export { BringInError } from './errors.js';
export { listCard } from './listCard.js';
export { cardsFolder, readFills } from './readFills.js';

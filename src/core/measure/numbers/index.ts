/** Race numbers: from the digit network's maps to readings, and from readings to a rider's number. */
export { readNumbers } from './readNumbers.js';
export type { DigitMaps, LookForDigits } from './types.js';
export { type NumberVote, numberKey, voteNumber } from './voteNumber.js';

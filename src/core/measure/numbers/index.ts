/** Race numbers: from the digit network's maps to readings, and from readings to a rider's number. */

export { LEAST_SHOWN } from './chanceRight.js';
export { isWorthReading, MOST_READ, readNumbers } from './readNumbers.js';
export type { DigitMaps, LookForDigits } from './types.js';
export { type NumberVote, numberKey, voteNumber } from './voteNumber.js';

/** The decision log: lines, folding, merging. */
export { type Causality, causalityOf } from './causality.js';
export { drawnBy, withWholeCircuits } from './circuitEdits.js';
export { crc32Of } from './crc32.js';
export { type CheckedDecision, checkDecision } from './decisionSchema.js';
export { fold } from './fold.js';
export { decisionOf, LINE_VERSION, lineText, type ParsedLine, parseLine, type ReadLog, readLog } from './line.js';
export { LogError } from './logError.js';
export { mergeLines } from './merge.js';
export { MINOR_SAID, type MinorSaid } from './minorSaid.js';
export { canonicalText, sealed, type Unsealed } from './seal.js';
export { isHeld, type KeepStatement, lastWord, takenDown } from './standing.js';
export type * from './types.js';

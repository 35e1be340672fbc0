/** Public names of the finishing stage. */
export { type IimField, iimFields, isoText, xml, xmpPacket } from './iptc.js';
export { placeMarks } from './placeMarks.js';
export { boxesToMark, planProof, proofSize } from './proofPlan.js';
export { type Takedowns, takedownsOf } from './takedowns.js';
export type * from './types.js';

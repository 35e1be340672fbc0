/** Public names of the finishing stage. */
export { type IimField, iimFields, isoText, xml, xmpPacket } from './iptc.js';
export { placeMarks } from './placeMarks.js';
export { boxesToMark, PROOF_LONG_EDGE_PX, PROOF_VERSION, planProof, proofSize } from './proofPlan.js';
export { type Takedowns, takedownsOf } from './takedowns.js';
export type * from './types.js';

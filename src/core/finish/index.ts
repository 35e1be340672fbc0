/** Public names of the finishing stage. */

export { type PictureFromElsewhere, picturesFromElsewhere } from './files/elsewhere.js';
export { bodyWord, namesOf, plainWord, riderFolders } from './files/names.js';
export * from './finishes/index.js';
export { boxesToMark, PROOF_EDGE_PX, planFinal, planProof } from './picturePlan.js';
export { placeMarks } from './placeMarks.js';
export { type Takedowns, takedownsOf } from './takedowns.js';
export type * from './types.js';
export { type IimField, iimFields, isoText, xml, xmpPacket, xmpSidecar } from './words/iptc.js';
export { finalWords, type MeetingWords, proofWords, ridersByFrame } from './words/wordsOf.js';

/** Public names of the finishing stage. */

export { apartKeepers } from './apartKeepers.js';
export { type Candidate, type ComingBack, comingBack, hasName } from './files/comingBack.js';
export { type PictureFromElsewhere, picturesFromElsewhere } from './files/elsewhere.js';
export {
  COMPARED_EDGE_PX,
  halved,
  likeness,
  type Outlines,
  outlinesOf,
  RETURNED_EDGE_PX,
  type SmallGrey,
} from './files/likeness.js';
export { APART_FOLDER, namesOf, riderFolders } from './files/names.js';
export { type OutFrame, planWayOut } from './files/wayOut.js';
export * from './finishes/index.js';
export { type Minor, minorPersons, minorsOf } from './minors.js';
export { ridersOfPersons } from './personsRiders.js';
export { boxesToMark, MIDDLE, PROOF_EDGE_PX, planFinal, planProof } from './picturePlan.js';
export { placeMarks } from './placeMarks.js';
export { type LooksInput, type PlannedLook, type PlannedLooks, planLooks } from './planLooks.js';
export { type Takedowns, takedownsOf } from './takedowns.js';
export type * from './types.js';
export { type IimField, iimFields, isoText, xml, xmpPacket, xmpSidecar } from './words/iptc.js';
export { finalWords, type MeetingWords, proofWords, ridersByFrame } from './words/wordsOf.js';

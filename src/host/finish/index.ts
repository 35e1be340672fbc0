/** Public names of finishing on a machine. */
export { allEnded } from './allEnded.js';
export { removeUnfinished, UNFINISHED, writeAtomically } from './atomically.js';
export { FinishError } from './finishError.js';
export type { FinishOptions, FinishState, NamedLook, PublishingWords } from './frames.js';
export type { MadePicture, PictureProgress } from './makeEach.js';
export { type FinalsReport, type MakeFinalsOptions, makeFinals } from './makeFinals.js';
export { type MakeProofsOptions, makeProofs, type ProofsReport } from './makeProofs.js';
export { OutFolder } from './ways/outFolder.js';
export { lookAtReturned, type Returned, takeReturned } from './ways/takeBack.js';
export { takeOut } from './ways/takeOut.js';

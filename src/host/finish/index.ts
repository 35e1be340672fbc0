/** Public names of finishing on a machine. */
export { allEnded } from './allEnded.js';
export { removeUnfinished, UNFINISHED, writeAtomically } from './atomically.js';
export { FinishError } from './finishError.js';
export {
  type FinishState,
  type MakeProofsOptions,
  makeProofs,
  type Proof,
  type ProofProgress,
  type ProofsReport,
  type PublishingWords,
} from './makeProofs.js';

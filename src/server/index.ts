/** Public names of the desk's server. */
export type { Action, ActionProgress, DeskActions } from './actions.js';
export { createDesk, type Desk, type DeskOptions, type ListeningDesk } from './desk.js';
export type { ProofMark } from './finish/addMark.js';
export type { HandoverWork, PlaceStanding } from './handover/types.js';
export { countOfQuestions } from './views/questions.js';
export { bodyWords } from './views/questionWords.js';
export { rollCallView } from './views/rollCall.js';
export { tapsView } from './views/taps.js';
export { spanWords } from './views/wallTime.js';

/** The day's solver on this machine. */
export { type AskOptions, type DaySolver, startDaySolver } from './daySolver.js';
export { askNextBest } from './nextBest.js';

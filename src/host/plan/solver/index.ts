/** The day's solver on this machine. */
export { type AskOptions, type DaySolver, startDaySolver } from './daySolver.js';
export { SolverError } from './solverError.js';

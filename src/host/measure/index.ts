/** Measuring in child processes, and in which order. */
export { type FileToMeasure, type MeasuredSoFar, type MeasureStep, measureOrder } from './order.js';
export { createMeasurePool } from './pool.js';

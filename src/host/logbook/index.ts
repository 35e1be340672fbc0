/** The append-only files of a meeting: decisions and measurements. */
export { flushFolder } from './appendOnly.js';
export { type LogbookOptions, newGestureId, type OpenLogbook, openLogbook } from './logbook.js';
export { LogbookError } from './logbookError.js';
export {
  type MeasuredIndex,
  type MeasuredSource,
  type MeasuredStoreOptions,
  type OpenMeasuredStore,
  openMeasuredStore,
} from './measuredStore.js';

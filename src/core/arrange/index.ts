/** Arrange: measurements, timetable and decisions → clocks, sessions, passes, riders and questions. */
export { ArrangeError } from './ArrangeError.js';
export { type ArrangeMemory, arrange, arrangeAgain } from './arrange.js';
export { liveryOf } from './riders/livery.js';
export { type ArrangementScore, type ArrangementTruth, scoreArrangement, type TrueExposure } from './score.js';
export type * from './types.js';

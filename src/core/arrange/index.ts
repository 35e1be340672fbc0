/** Arrange: measurements, timetable and decisions → clocks, sessions, passes, riders and questions. */
export { ArrangeError } from './ArrangeError.js';
export { arrange } from './arrange.js';
export type * from './types.js';

/** The timetable: read, slipped and written; and the entry list. */
export { addGroup, type GroupAdded } from './addGroup.js';
export { applySlips } from './applySlips.js';
export { findTimes } from './clock.js';
export { daysBetween } from './dates.js';
export { LEAST_LUNCH_MS, LEAST_SESSION_MS, lunchOf, slotsOfDay } from './dayParts.js';
export { heavyOf } from './heavySlip.js';
export { type SaidOfTimetable, slipOn, type TimetableInForce, timetableInForce } from './inForce.js';
export { entryNumbersOf, entryWords, readEntries, riderKeyOf } from './readEntries.js';
export { type ReadTimetableOptions, readTimetable } from './readTimetable.js';
export { type Row, rowsOf, rowsOfText } from './rows.js';
export { timetableText } from './timetableText.js';
export { plain } from './words.js';

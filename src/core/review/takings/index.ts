/** What a meeting took. */
export { accountantTable, type CellTable, type MeetingTakings, percentText } from './accountant.js';
export { type TakingsBar, takingsBars } from './bars.js';
export { takingsOf } from './takingsOf.js';
export type * from './types.js';

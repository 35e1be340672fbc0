/** Public names of the plan: circuits, timetable, light, settings, the day's solver and its sheets. */
export { LIGHT_RULES, lightAt, lightOf } from './light/lightAt.js';
export { type DayAsked, type LightOfDay, lightOfDay } from './light/lightOfDay.js';
export { highSun, lightRow, skyAt, sunRow, sunTrack, threadPx } from './light/rows.js';
export type * from './light/types.js';
export { type LightWords, lightWords } from './light/words.js';
export { LIGHT_WORTH, worthOfLight } from './light/worth.js';
export { drawStreak, type StreakDrawing, type StreakOptions, type StreakShape } from './settings/drawStreak.js';
export { LADDER_RULES, ladderTable } from './settings/ladder.js';
export { paceFit } from './settings/paceFit.js';
export { SHUTTER_PRACTICE } from './settings/practice.js';
export { settingsFor, USUAL_SENSOR } from './settings/settingsFor.js';
export { guessLevel, kmhOf, speedsAt } from './settings/speeds.js';
export { type StartingSettings, startingSettings } from './settings/startingSettings.js';
export type * from './settings/types.js';

/** What worked, of a meeting on disk. */
export { DebriefError } from './debriefError.js';
export { debriefIn, keepDebrief, readDebrief } from './debriefFile.js';
export { type DebriefOfDay, debriefOfDay } from './debriefOfDay.js';
export { type DebriefPaper, debriefPaper } from './debriefPaper.js';
export { titleOf } from './meetingWords.js';
export { type Elsewhere, takingsElsewhere } from './takingsElsewhere.js';
export { takingsOfMeeting } from './takingsOfMeeting.js';

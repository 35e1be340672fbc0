/** The meeting folder: made, opened, owned. */
export { FOLDER_FORMAT } from './about.js';
export { MeetingError } from './meetingError.js';
export { createMeeting, mergeMeetings, type OpenMeeting, type OpenMeetingOptions, openMeeting } from './openMeeting.js';
export { type Owner, ownerOf } from './ownership.js';
export type { People, Person } from './people.js';
export { type BroughtTogether, bringTogether } from './sideBySide.js';
export { defaultStateRoot, stateFolderOf } from './stateFolder.js';
export type * from './types.js';

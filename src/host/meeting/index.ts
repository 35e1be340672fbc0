/** The meeting folder: made, opened, owned. */
export { FOLDER_FORMAT } from './about.js';
export { MeetingError } from './meetingError.js';
export { createMeeting, type OpenMeetingOptions, openMeeting } from './openMeeting.js';
export { type Owner, ownerOf } from './ownership.js';
export { defaultStateRoot, stateFolderOf } from './stateFolder.js';
export type * from './types.js';

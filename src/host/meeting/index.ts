/** The meeting folder: made, opened, owned. */
export { amendAbout } from './about.js';
export { MeetingError } from './meetingError.js';
export {
  createMeeting,
  mergeMeetings,
  type OpenMeeting,
  type OpenMeetingOptions,
  openMeeting,
  ownerOf,
} from './openMeeting.js';
export type { Owner } from './ownership.js';
export type { People, Person } from './people.js';
export { type BroughtTogether, bringTogether } from './sideBySide.js';
export type * from './types.js';

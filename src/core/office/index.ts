/** The office: papers, kit and what to pack, before leaving home. */
export { type BeforeInput, beforePage, carriedOf } from './beforePage.js';
export { framesExpected } from './packingList.js';
export { KIT_EXAMPLE, kitText, readKit } from './text/kitText.js';
export type { Read } from './text/lines.js';
export { MEETING_EXAMPLE, meetingText, readMeeting } from './text/meetingText.js';
export { OWN_EXAMPLE, ownText, readOwn } from './text/ownText.js';
export {
  type BeforePage,
  type Check,
  type CheckState,
  type MeetingPapers,
  NOTHING_SAID,
  type Office,
} from './types.js';

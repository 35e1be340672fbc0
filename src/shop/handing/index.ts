/** Public names of handing over. */

export type { WaitingOrder } from './admin.js';
export type { Sign } from './deeds.js';
export { type AskAdmin, type BroughtReport, bringFinals } from './finals/bringFinals.js';
export { finalsOfMeeting, type MeetingOfFinals } from './finals/meetingFinals.js';
export { openHanding } from './openHanding.js';
export type { FinalMaker, FinalWish, MailSettings } from './types.js';

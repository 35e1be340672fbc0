/** A word said in the terminal: into the log of a meeting nobody has open, else through the desk that has it. */
import { v7 as uuidv7 } from 'uuid';
import type { GestureId } from '../core/ids.js';
import type { Decision, FoldedLog } from '../core/log/types.js';
import type { OpenMeeting } from '../host/meeting/index.js';
import { type MeetingAbout, openMeeting } from '../host/meeting/index.js';
import { askDesk, deskAddressIn } from './askDesk.js';

export interface MeetingWish {
  readonly stateRoot?: string;
}

/** Looks at a meeting, whoever has it open. */
export async function lookAt(
  folder: string,
  wish: MeetingWish,
): Promise<{ readonly about: MeetingAbout; readonly log: FoldedLog }> {
  const meeting = await openMeeting(folder, { ...wish, isForLooking: true });
  try {
    return { about: meeting.about, log: meeting.log.folded() };
  } finally {
    await meeting.close();
  }
}

/** Says it in one gesture and returns its name. `atDesk` is asked where a desk owns the meeting. */
export async function sayTo(
  folder: string,
  wish: MeetingWish,
  decide: (meeting: OpenMeeting) => Promise<readonly Decision[]> | readonly Decision[],
  atDesk: (address: string, gesture: GestureId) => Promise<unknown>,
): Promise<GestureId> {
  const gesture = uuidv7() as GestureId;
  const meeting = await openMeeting(folder, wish).catch(async (error: unknown) => {
    const address = deskAddressIn(error);
    if (address === null) throw error;
    await atDesk(address, gesture);
    return null;
  });
  if (meeting === null) return gesture;
  try {
    await meeting.log.append(gesture, await decide(meeting));
  } finally {
    await meeting.close();
  }
  return gesture;
}

/** Plain decisions: the same for the log and the desk. */
export const sayDecisions = (folder: string, wish: MeetingWish, decisions: readonly Decision[]): Promise<GestureId> =>
  sayTo(
    folder,
    wish,
    () => decisions,
    (address, gesture) => askDesk(address, '/api/gestures', { gesture, decisions }),
  );

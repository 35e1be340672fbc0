/** `tyrewall debrief <meeting>`: what worked; its rates are kept in the meeting's folder, and with --beside another's are set beside them. */
import { join } from 'node:path';
import type { SpotId } from '../core/ids.js';
import { compareMeetings } from '../core/review/debrief/index.js';
import { writeWhole } from '../host/meeting/writeWhole.js';
import { debriefOfDay, debriefPaper, keepDebrief, readDebrief } from '../host/review/index.js';
import { comparedLines, debriefLines } from './debriefLines.js';
import { openWholeDay } from './openWholeDay.js';
import type { MeetingWish } from './sayDecisions.js';

export interface DebriefWish extends MeetingWish {
  readonly json?: boolean;
  /** Onto one sheet of A4 as well: `made/debrief.pdf`. */
  readonly paper?: boolean;
  /** Another meeting's folder, or the file of its rates. */
  readonly beside?: string;
}

export async function debriefCommand(
  folder: string,
  wish: DebriefWish,
  say: (line: string) => void = console.log,
): Promise<void> {
  const other = wish.beside === undefined ? null : await readDebrief(wish.beside);
  const whole = await openWholeDay(folder, {
    isForLooking: true,
    ...(wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot }),
  });
  const state = await whole.day.settled().finally(() => whole.close());
  const found = debriefOfDay(state);
  await keepDebrief(whole.meeting.folder, found);
  if (wish.paper === true) {
    const path = join(whole.meeting.folder, 'made', 'debrief.pdf');
    await writeWhole(path, (await debriefPaper(found, new Date())).pdf);
    if (wish.json !== true) say(`On paper: ${path}`);
  }
  const spotName = (spot: SpotId) => found.spotNames.get(spot) ?? spot;
  const compared =
    other === null ? null : compareMeetings(other, { meeting: found.meeting.name, rates: found.debrief, spotName });
  if (wish.json === true) say(JSON.stringify({ meeting: found.meeting, ...found.debrief, compared }, null, 2));
  else {
    for (const line of debriefLines(found.debrief, spotName)) say(line);
    if (other !== null && compared !== null)
      for (const line of comparedLines(other.meeting, compared, spotName)) say(line);
  }
}

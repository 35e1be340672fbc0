import { cardsOfMeeting } from '../host/cards/index.js';
import type { DayState } from '../host/day/types.js';
import { wallAt } from '../host/day/wallNow.js';
import { publicIdsOf, secretSoFar } from '../host/gallery/index.js';
import { handedButDown, organiserDue, readHanded } from '../host/organiser/index.js';
import { putUpStandings, withdrawnIds } from '../host/putUp/index.js';
import { openWholeDay } from './openWholeDay.js';
import { dayLines } from './printDay.js';
import { standingLines } from './putUpCommand.js';

/** `tyrewall show <meeting>`: what is known, without changing anything; measures nothing new. */
export async function showCommand(folder: string): Promise<void> {
  const whole = await openWholeDay(folder, { isForLooking: true });
  try {
    const cards = await cardsOfMeeting(whole.meeting.folder, whole.meeting.people);
    const state = await whole.day.settled();
    for (const line of dayLines(state, cards)) console.log(line);
    const handed = await readHanded(whole.meeting.folder);
    const due = organiserDue(state, handed, wallAt(state.about.zone, Date.now()));
    if (due !== null) console.log(`\n${due.sentence}`);
    for (const sentence of handedButDown(state, handed)) console.log(`! ${sentence}`);
    for (const line of await putUpLines(whole.meeting.folder, state)) console.log(line);
  } finally {
    await whole.close();
  }
}

async function putUpLines(folder: string, state: DayState): Promise<readonly string[]> {
  const secret = await secretSoFar(folder);
  const withdrawn = secret === null ? new Set<string>() : withdrawnIds(state, publicIdsOf(secret));
  return standingLines(await putUpStandings(folder, withdrawn, new Date()));
}

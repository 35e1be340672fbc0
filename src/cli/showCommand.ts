import { cardsOfMeeting } from '../host/cards/index.js';
import { wallAt } from '../host/day/wallNow.js';
import { organiserDue, readHanded } from '../host/organiser/index.js';
import { openWholeDay } from './openWholeDay.js';
import { dayLines } from './printDay.js';

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
  } finally {
    await whole.close();
  }
}

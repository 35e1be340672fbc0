import { cardsOfMeeting } from '../host/cards/index.js';
import { openWholeDay } from './openWholeDay.js';
import { dayLines } from './printDay.js';

/** `tyrewall show <meeting>`: what is known, without changing anything; measures nothing new. */
export async function showCommand(folder: string): Promise<void> {
  const whole = await openWholeDay(folder, { isForLooking: true });
  try {
    const cards = await cardsOfMeeting(whole.meeting.folder, whole.meeting.people);
    for (const line of dayLines(await whole.day.settled(), cards)) console.log(line);
  } finally {
    await whole.close();
  }
}

import { openWholeDay } from './openWholeDay.js';
import { dayLines } from './printDay.js';

/** `tyrewall show <meeting>`: what is known, without changing anything; measures nothing new. */
export async function showCommand(folder: string): Promise<void> {
  const whole = await openWholeDay(folder, { isForLooking: true });
  try {
    for (const line of dayLines(await whole.day.settled())) console.log(line);
  } finally {
    await whole.close();
  }
}

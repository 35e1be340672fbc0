/** `tyrewall open <meeting>`: the desk, until the person ends it. */
import { watchForCards } from '../host/bringin/index.js';
import { listenDesk, portSaid } from './deskOf.js';
import { openWholeDay } from './openWholeDay.js';
import type { AskWish } from './ordersCommand.js';
import { keptLinesAtOpening } from './personCommands.js';
import { untilInterrupted } from './untilInterrupted.js';

export async function openCommand(
  folder: string,
  wish: AskWish & { readonly port?: string; readonly watch?: boolean },
): Promise<void> {
  const port = portSaid(wish.port);
  const whole = await openWholeDay(folder, { judges: true });
  for (const line of await keptLinesAtOpening(whole.meeting)) console.log(line);
  const watching =
    wish.watch === true
      ? watchForCards((card) => {
          console.log(`${card} has appeared; bringing it in.`);
          whole.day.bringIn([card]).catch((error: unknown) => console.error((error as Error).message));
        })
      : null;
  try {
    const desk = await listenDesk(whole, {
      ...port,
      ask: wish,
      handover: (await import('./deskHandover.js')).deskHandover(whole, wish),
      orders: async () => (await import('./ordersCommand.js')).clientOf(wish),
    });
    console.log(`The desk of ${whole.meeting.about.name}: ${desk.url}`);
    console.log('End it with Ctrl+C; what was said is already on the disk.');
    await untilInterrupted();
    await desk.close();
  } finally {
    watching?.stop();
    await whole.close();
  }
}

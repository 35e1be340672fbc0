/** The resident worker's own program: takes news, arranges when asked, answers. */
import { parentPort, workerData } from 'node:worker_threads';
import type { ArrangeSettings, FromArranger, ToArranger } from './arrangeMessages.js';
import { rememberingDerive } from './derive.js';
import { heldDay } from './heldDay.js';

const held = heldDay(workerData as ArrangeSettings, rememberingDerive());
const answer = (message: FromArranger): void => parentPort?.postMessage(message);

parentPort?.on('message', (message: ToArranger) => {
  if (message.kind === 'news') {
    held.take(message.news);
    return;
  }
  try {
    answer({ kind: 'arranged', id: message.id, ...held.arrange(message.now) });
  } catch (problem) {
    answer({ kind: 'failed', id: message.id, why: (problem as Error).message });
  }
});

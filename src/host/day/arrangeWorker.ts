/** The resident worker's own program: takes news, arranges when asked, answers. */
import { parentPort, workerData } from 'node:worker_threads';
import type { ArrangeSettings, FromArranger, ToArranger } from './arrangeMessages.js';
import { changedSince } from './changedSince.js';
import { type Derived, rememberingDerive } from './derive.js';
import { heldDay } from './heldDay.js';

const held = heldDay(workerData as ArrangeSettings, rememberingDerive());
/** As the other side has it. */
let told: Derived | null = null;
const answer = (message: FromArranger): void => parentPort?.postMessage(message);

parentPort?.on('message', (message: ToArranger) => {
  if (message.kind === 'news') {
    held.take(message.news);
    return;
  }
  try {
    const { derived, tookMs } = held.arrange(message.now);
    answer({ kind: 'arranged', id: message.id, changed: changedSince(told, derived), tookMs });
    told = derived;
  } catch (problem) {
    answer({ kind: 'failed', id: message.id, why: (problem as Error).message });
  }
});

/** Everybody who is left stands as proposed: one gesture, taken back as one. */
import { desk } from '../api/client.js';
import { ask, sayNow } from '../stores/said.js';
import { restAsProposed, sit } from './sitting.js';

export function useRest(): () => void {
  return () =>
    void ask('The rest stands as proposed', async () => {
      const { decisions, riders } = await desk.theRest();
      if (decisions.length === 0) return;
      const gesture = sayNow(
        riders.length === 1 ? 'One set stands as proposed' : `${riders.length} sets stand as proposed`,
        decisions,
      );
      sit((before) => restAsProposed(before, riders, gesture));
    });
}

/** Two riders of one group who took each other's pictures of one session. */
import { expect, it } from 'vitest';
import { hardDay, syntheticDay } from '../../../demo/simulated-day/index.js';
import { eyeOf } from '../../../tools/accuracy/person.js';
import { arrange } from './index.js';

it('AR22: they exchange them: each has its own of the session in which one looked like the other', () => {
  const day = syntheticDay(hardDay('s50', 3));
  const { riderOf } = eyeOf(day);
  const { passes } = arrange(day.input);
  const ridersOf = (name: string, session: number): readonly string[] => [
    ...new Set(
      passes.filter((one) => one.session === session && riderOf(one.bikes[0]!) === name).map((one) => one.rider),
    ),
  ];
  // Session 15 is the one; of session 0 each was found whole.
  for (const name of ['N1', 'N23']) expect(ridersOf(name, 15)).toEqual(ridersOf(name, 0));
});

/** A day that has hardly begun: the first round of sessions alone. */
import { expect, it } from 'vitest';
import { hardDay, syntheticDay } from '../../../demo/simulated-day/index.js';
import { eyeOf } from '../../../tools/accuracy/person.js';
import { placedBikes, scoreRiders } from '../../../tools/accuracy/ridersScore.js';
import { arrange } from './index.js';

it.each(['s74', 's50', 'fleet'] as const)(
  'AR35: after one round of sessions hardly any placed picture of %s lies wrong',
  (setting) => {
    const day = syntheticDay({ ...hardDay(setting, 1), rounds: 1 });
    const { wrongShare, placedShare } = scoreRiders(placedBikes(arrange(day.input), eyeOf(day)));
    expect(wrongShare).toBeLessThanOrEqual(0.01);
    expect(placedShare).toBeGreaterThan(0.9);
  },
);

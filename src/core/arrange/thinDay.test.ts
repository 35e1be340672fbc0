/** A day that has hardly begun: the first round of sessions alone. */
import { describe, expect, it } from 'vitest';
import { hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
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

describe('a day on which nobody is seen twice in a session', () => {
  const day = syntheticDay({
    ...hardDay('s50', 2),
    groups: ORDINARY_DAY.groups,
    rounds: 3,
    detector: { missedShare: 0, surplusShare: 0 },
  });
  const seen = new Set<string>();
  const once = new Set(
    day.truth.exposures.flatMap(({ frameId, session, bikes: [first, ...others] }) => {
      const key = `${session} ${first?.rider}`;
      if (first === undefined || others.length > 0 || seen.has(key)) return [];
      seen.add(key);
      return [frameId];
    }),
  );
  const files = day.input.files.filter(({ metadata }) => once.has(metadata.frameId));

  it('AR36: shows no bike twice for certain, so that no two pictures lie in one set by a guess', () => {
    const { passes, unsure, riders } = arrange({ ...day.input, files });
    expect(passes.length).toBeGreaterThan(120);
    expect(passes.length - unsure!.length).toBe(riders.length);
  });

  it('AR36: does so where nearly all are seen again', () => {
    const { passes, unsure } = arrange(day.input);
    expect(unsure!.length).toBeLessThan(0.1 * passes.length);
  });
});

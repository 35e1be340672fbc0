import { describe, expect, it } from 'vitest';
import { hardDay, ORDINARY_DAY, syntheticDay } from '../../../demo/simulated-day/index.js';
import { wordsOf } from './decisions.js';
import { findDay } from './foundDay.js';

describe('how well passes hold to their rider', () => {
  it('AR21: is worked out as the odds of two riders, without making either', () => {
    const groups = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 10 }));
    const { input } = syntheticDay({ ...hardDay('s74', 2), groups, rounds: 4, lunchAfterRound: 2 });
    const { clusters, model } = findDay(input, wordsOf(input.log)).clustering;
    let compared = 0;
    for (const cluster of clusters)
      for (const { passes } of cluster.sightings.values())
        for (const part of [passes, passes.slice(0, 1)]) {
          if (part.length === cluster.passes.length) continue;
          const rest = model!.without(cluster, part);
          const odds = model!.logOdds(model!.cluster(part), rest, Number.NEGATIVE_INFINITY);
          expect(model!.tie(cluster, part)).toBeCloseTo(odds, 9);
          compared++;
        }
    expect(compared).toBeGreaterThan(200);
  });
});

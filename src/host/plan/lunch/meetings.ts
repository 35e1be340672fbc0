/** Where a plan meets the riders to look for. */
import type { Watched } from '../../../core/cover/lunch/types.js';
import type { RiderKey } from '../../../core/ids.js';
import type { Stay, Stretch } from '../../../core/plan/day/types.js';
import type { NextMeeting } from './types.js';

/** The next one at a spot that still lacks, where there is one; else the next one. */
export function meetingsOf(
  watch: readonly Watched[],
  stretches: readonly Stretch[],
  stays: readonly Stay[],
): ReadonlyMap<RiderKey, NextMeeting> {
  const inOrder = stretches.toSorted((a, b) => a.from - b.from);
  return new Map(
    watch.flatMap(({ rider, group, spots }): (readonly [RiderKey, NextMeeting])[] => {
      const all = inOrder
        .filter((stretch) => stretch.group === group)
        .flatMap((stretch) =>
          stays.flatMap(({ stretch: name, spot }): NextMeeting[] =>
            spot !== null && (name === stretch.name || name === stretch.slot)
              ? [{ stretch: stretch.name, from: stretch.from, spot, isNewSpot: !spots.includes(spot) }]
              : [],
          ),
        );
      const next = all.find(({ isNewSpot }) => isNewSpot) ?? all[0];
      return next === undefined ? [] : [[rider, next]];
    }),
  );
}

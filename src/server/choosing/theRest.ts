/** What is said when the rest is to stand as proposed: one gesture, which the screen sends, so that it is taken back as one. */
import type { Decision } from '../../core/log/types.js';
import type { DayState } from '../../host/day/types.js';
import { knownOf, pointOf } from '../views/known.js';
import { choosingOf } from './choosingOf.js';
import type { TheRestView } from './types.js';

export function theRest(state: DayState): TheRestView {
  const known = knownOf(state);
  const { left, keepers } = choosingOf(known);
  const riders = left().left;
  const decisions = riders.flatMap((key): readonly Decision[] => {
    const rider = known.riderByKey.get(key);
    const of = rider ? pointOf(known, rider.face) : null;
    if (of === null) return [];
    const files = (keepers.byRider.get(key) ?? []).flatMap(
      ({ bike }) => known.exposureById.get(bike.frameId)?.mainFile ?? [],
    );
    return [{ kind: 'gone-through', of, files: [...new Set(files)], unseen: true }];
  });
  return { asOf: state.asOf, riders, decisions };
}

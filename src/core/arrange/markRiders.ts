/** What sets riders apart from the others: instructors, and those on bikes that look the same. */
import type { RiderKey } from '../ids.js';
import type { FoundDay } from './foundDay.js';
import { isSeenWithSeveralGroups } from './riders/instructors.js';
import { riderOfCluster, type SaidDay } from './saidDay.js';
import type { Rider } from './types.js';

export function markRiders(riders: readonly Rider[], found: FoundDay, said: SaidDay): readonly Rider[] {
  const alike = alikeOf(riders, found, said);
  return riders.map((rider, r) => {
    const sessions = rider.passes.map((p) => said.passes[p]!.session);
    const instructs = said.instructs.get(r) ?? isSeenWithSeveralGroups(sessions, found.field);
    const others = alike[r]!;
    return {
      ...rider,
      ...(instructs ? { isInstructor: true } : {}),
      ...(others.size === 0 ? {} : { alike: [...others] }),
    };
  });
}

/** By the clusters as found: a person's word does not change what bikes look like. */
function alikeOf(
  riders: readonly Rider[],
  { clustering, passes }: FoundDay,
  said: SaidDay,
): readonly ReadonlySet<RiderKey>[] {
  const alike = riders.map(() => new Set<RiderKey>());
  const riderAt = clustering.clusters.map((cluster) => riderOfCluster(cluster, passes, said));
  clustering.alike.forEach((others, cluster) => {
    for (const other of others) {
      const [a, b] = [riderAt[cluster]!, riderAt[other]!];
      if (a >= 0 && b >= 0 && a !== b) alike[a]!.add(riders[b]!.key);
    }
  });
  return alike;
}

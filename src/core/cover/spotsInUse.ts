/** Of a circuit's many spots those that the day is told by: a wheel with arcs for places where nobody stands says nothing. Rule CV20. */
import type { Arrangement } from '../arrange/types.js';
import type { FoldedLog } from '../log/types.js';

/** Spots stood at, seen in frames, or in the plan taken last; all of them as long as there is none of these. */
export function spotsInUse<S extends { readonly id: string }>(
  spots: readonly S[],
  log: FoldedLog,
  { exposures }: Pick<Arrangement, 'exposures'>,
): readonly S[] {
  const used = new Set<string>();
  for (const { spot } of exposures) if (spot !== null) used.add(spot);
  for (const { decision } of log.inForce) if (decision.kind === 'stood-at') used.add(decision.spot);
  const plan = log.inForce.findLast(({ decision }) => decision.kind === 'plan-taken')?.decision;
  if (plan?.kind === 'plan-taken') for (const { spot } of plan.stays) if (spot !== null) used.add(spot);
  const inUse = spots.filter(({ id }) => used.has(id));
  return inUse.length === 0 ? spots : inUse;
}

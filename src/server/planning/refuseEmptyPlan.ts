/** A plan that stands nowhere is none: taken, it would hide what the person said of where they stand. Rule PL1315. */
import type { Decision } from '../../core/log/types.js';
import { DeskError } from '../DeskError.js';

export function refuseEmptyPlan(decisions: readonly Decision[]): void {
  const isEmpty = decisions.some(
    (decision) => decision.kind === 'plan-taken' && decision.stays.every(({ spot }) => spot === null),
  );
  if (!isEmpty) return;
  throw new DeskError(
    409,
    'Nothing was written down. Expected a plan with at least one spot to stand at, but this one has none. Take a wish back or say that a spot is open, and have it made again.',
  );
}

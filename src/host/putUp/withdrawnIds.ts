import { takedownsOf } from '../../core/finish/index.js';
import { endedSetIds } from '../../core/handover/find/index.js';
import { downIds, type PublicIdOf } from '../../core/handover/index.js';
import type { DayState } from '../day/types.js';

/** Every public id under which something lies at a place that was taken down, pictures, faces and riders; and private pages whose link has ended. */
export function withdrawnIds(
  { arrangement, log }: Pick<DayState, 'arrangement' | 'log'>,
  idOf: PublicIdOf,
): ReadonlySet<string> {
  const takedowns = takedownsOf(arrangement, log);
  return new Set([...downIds(takedowns, idOf), ...endedSetIds(log, takedowns.riderIds, idOf)]);
}

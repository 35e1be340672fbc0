/** Names the action by its pictures, so that the same ones said again, from desk or terminal, are the same action (rule LW7). */
import { createHash } from 'node:crypto';
import { type FactToTell, refundWrongRider } from '../../core/handover/law/index.js';
import type { OrderState } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';

export function wrongRiderFacts(state: OrderState, pictures: readonly PublicId[]): readonly FactToTell[] {
  const sum = createHash('sha256')
    .update([...pictures].sort().join())
    .digest('hex');
  return refundWrongRider(state, pictures, `wrong-rider-${sum.slice(0, 32)}`);
}

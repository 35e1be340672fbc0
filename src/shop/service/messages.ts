/** The gallery's forms carry no key of their own, so the same words within a day are one message. */
import { createHash } from 'node:crypto';
import type { MessageKind, Offer } from '../../core/handover/orders/index.js';
import type { EpochMs } from '../../core/units.js';

export function messageIdOf(
  meeting: Offer['meeting'],
  kind: MessageKind,
  words: Readonly<Record<string, string>>,
  at: EpochMs,
): string {
  const day = new Date(at).toISOString().slice(0, 10);
  return createHash('sha256')
    .update(JSON.stringify([meeting, kind, day, words]))
    .digest('hex');
}

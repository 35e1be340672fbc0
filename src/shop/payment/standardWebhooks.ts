/**
 * Signatures of webhooks by the Standard Webhooks specification, version 1.0.0 (standardwebhooks.com): HMAC-SHA-256 over
 * `id.timestamp.body`, base64, as `v1,…` in `webhook-signature`; several, parted by spaces, while keys are changed. Asymmetric signatures
 * (`v1a`) are not taken. Rule OR23.
 */
import { createHmac, timingSafeEqual } from 'node:crypto';

/** The specification leaves it open; its own libraries take five minutes. */
const TOLERANCE_S = 5 * 60;
const PREFIX = 'whsec_';
/** Bytes; the specification asks for 24 to 64. */
const KEY_BYTES = { least: 24, most: 64 } as const;

export interface WebhookAsked {
  readonly id: string | undefined;
  readonly timestamp: string | undefined;
  readonly signature: string | undefined;
  /** As it came: a body that was parsed and written again is signed otherwise. */
  readonly body: string;
}

export type WebhookOutcome =
  | { readonly kind: 'signed'; readonly id: string }
  | { readonly kind: 'refused'; readonly why: 'incomplete' | 'out-of-time' | 'not-signed-by-us' };

/** The key's bytes; null where the text is no key. */
export function webhookKeyOf(text: string): Buffer | null {
  const base64 = text.startsWith(PREFIX) ? text.slice(PREFIX.length) : text;
  if (!/^[A-Za-z0-9+/]+={0,2}$/.test(base64)) return null;
  const key = Buffer.from(base64, 'base64');
  return key.length >= KEY_BYTES.least && key.length <= KEY_BYTES.most ? key : null;
}

export function signWebhook(key: Buffer, id: string, timestamp: string, body: string): string {
  return `v1,${createHmac('sha256', key).update(`${id}.${timestamp}.${body}`).digest('base64')}`;
}

/** Against every key that is still good: the old one signs beside the new one while they are changed. */
export function verifyWebhook(
  { id, timestamp, signature, body }: WebhookAsked,
  keys: readonly Buffer[],
  nowMs: number,
): WebhookOutcome {
  // With a full stop in the id another id and time could be read out of the same signed text.
  if (!id || !timestamp || !signature || !/^\d{1,12}$/.test(timestamp) || id.length > 256 || id.includes('.'))
    return { kind: 'refused', why: 'incomplete' };
  if (Math.abs(Math.floor(nowMs / 1000) - Number(timestamp)) > TOLERANCE_S)
    return { kind: 'refused', why: 'out-of-time' };
  const given = signature.split(' ').slice(0, 16);
  const expected = keys.map((key) => signWebhook(key, id, timestamp, body));
  const isOurs = expected.some((ours) => given.some((theirs) => isSame(ours, theirs)));
  return isOurs ? { kind: 'signed', id } : { kind: 'refused', why: 'not-signed-by-us' };
}

/** How long a signature is, is no secret. */
function isSame(a: string, b: string): boolean {
  const [left, right] = [Buffer.from(a), Buffer.from(b)];
  return left.length === right.length && timingSafeEqual(left, right);
}

/**
 * Links to an order's pictures: signed, so that none can be guessed or lengthened; with an end; and of a generation, so that one can be
 * taken back. The order's own id is not in them: it opens the order's page, contact and papers, which whoever a link is passed on to
 * has no business with. HMAC-SHA-256 (RFC 2104, FIPS 180-4) under a key drawn from the service's secret (HKDF, RFC 5869). Rules HD1–HD4.
 */
import { createHmac, hkdfSync, timingSafeEqual } from 'node:crypto';
import type { OrderId, StoredFact } from '../../core/handover/orders/index.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import type { Link } from './types.js';

/** How long a link is good. Long enough for a holiday, short enough that a forgotten one ends. */
export const LINK_DAYS = 30;

/** As it stands in the address: reference, scope, generation, end, signature. */
const SHAPE = /^([0-9a-f]{32})\.(set|[0-9a-f]{32})\.([1-9][0-9]{0,5})\.([1-9a-z][0-9a-z]{0,7})\.([0-9A-Za-z_-]{43})$/;

/** What a signed link says; which order its reference is of, is looked up. */
export interface SignedLink extends Omit<Link, 'order'> {
  readonly reference: string;
}

export interface LinkSigner {
  /** 128 bits that stand for the order, from which its id cannot be reckoned. */
  referenceOf(order: OrderId): string;
  sign(link: Link): string;
  /** Null for what was not signed here, whatever is wrong with it. */
  read(text: string): SignedLink | null;
}

export function linkSigner(secret: string): LinkSigner {
  const keyFor = (use: string) =>
    Buffer.from(hkdfSync('sha256', Buffer.from(secret, 'hex'), '', `tyrewall handing over: ${use}`, 32));
  const linkKey = keyFor('links');
  const referenceKey = keyFor('references');
  const referenceOf = (order: OrderId) => createHmac('sha256', referenceKey).update(order).digest('hex').slice(0, 32);
  const signatureOf = (said: string) => createHmac('sha256', linkKey).update(said).digest();
  return {
    referenceOf,
    sign: ({ order, scope, generation, expiresAt }) => {
      const said = `${referenceOf(order)}.${scope ?? 'set'}.${generation}.${Math.floor(expiresAt / 1000).toString(36)}`;
      return `${said}.${signatureOf(said).toString('base64url')}`;
    },
    read: (text) => {
      const [, reference, scope, generation, end, signature] = SHAPE.exec(text) ?? [];
      if (signature === undefined) return null;
      const ours = signatureOf(text.slice(0, text.lastIndexOf('.')));
      // Compared as bytes in constant time, then as text: the last letter of base64url has two bits that say nothing.
      const isOurs = timingSafeEqual(ours, Buffer.from(signature, 'base64url'));
      if (!isOurs || signature !== ours.toString('base64url')) return null;
      return {
        reference: reference!,
        scope: scope === 'set' ? null : scope!,
        generation: Number(generation),
        expiresAt: epochMsOf(Number.parseInt(end!, 36) * 1000),
      };
    },
  };
}

export type LinkStanding = 'good' | 'expired' | 'revoked';

/**
 * Of a link whose signature stood. One that was taken back stays so, with all older ones. An older one ends when a newer is made, since
 * the newer went to the buyer's own address.
 */
export function standingOfLink(
  link: Pick<Link, 'generation' | 'expiresAt'>,
  facts: readonly Pick<StoredFact, 'fact'>[],
  now: EpochMs,
): LinkStanding {
  const said = facts.map(({ fact }) => fact);
  if (said.some((fact) => fact.kind === 'link-revoked' && fact.generation >= link.generation)) return 'revoked';
  const newest = Math.max(0, ...said.map((fact) => (fact.kind === 'link-made' ? fact.generation : 0)));
  return link.generation < newest || link.expiresAt <= now ? 'expired' : 'good';
}

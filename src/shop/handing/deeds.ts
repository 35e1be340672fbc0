/** What is done about links and signs, each told once under its own key. Rules HD2–HD8. */
import { createHash } from 'node:crypto';
import {
  type FactKey,
  handedFiles,
  type Offer,
  type OrderId,
  type OrderState,
  releaseOf,
  type StoredFact,
  stateOf,
  type Who,
} from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import { epochMsOf } from '../../core/units.js';
import type { OrderReads, OrderWrites } from '../db/index.js';
import { ShopError } from '../shopError.js';
import { LINK_DAYS, type LinkSigner, standingOfLink } from './links.js';
import { isOfLink, queuedMail } from './mail/post.js';
import type { Link, MailSettings } from './types.js';

const DAY_MS = 86_400_000;
/** A link that is good for less than this is not sent again: a fresh one is. */
const WORTH_SENDING_MS = 7 * DAY_MS;
/** Letters to one order, whoever asks for them. */
const LETTER_PAUSE_MS = 15 * 60_000;

export interface OrderFound {
  readonly state: OrderState;
  readonly facts: readonly StoredFact[];
  readonly offer: Offer;
}

/** Null for what was never placed, or is of no meeting here. */
export async function findOrder(reads: OrderReads, order: OrderId): Promise<OrderFound | null> {
  const facts = await reads.factsOf(order);
  const state = stateOf(order, facts);
  const offer = state.placed === null ? null : await reads.offer(state.placed.meeting);
  return offer === null ? null : { state, facts, offer };
}

/** Paid for and looked at: what may be fetched now. */
export const mayBeHanded = ({ state, offer }: OrderFound): boolean =>
  state.standing === 'paid' && handedFiles(state, offer).length > 0 && releaseOf(state, offer).kind === 'open';

interface Linking {
  readonly signer: LinkSigner;
  readonly now: StoredFact['at'];
  readonly by: Who;
}

/** The link of now: the newest where it is good for a while, else a fresh one. What the reference is of is kept beside it. */
export async function goodLink(writes: OrderWrites, { state, facts }: OrderFound, linking: Linking): Promise<Link> {
  const { signer, now, by } = linking;
  const { id: order, link } = state;
  const isGood = link !== null && standingOfLink(link, facts, epochMsOf(now + WORTH_SENDING_MS)) === 'good';
  if (isGood) return { order, scope: null, generation: link.generation, expiresAt: link.expiresAt };
  const generation = (link?.generation ?? 0) + 1;
  const expiresAt = epochMsOf(Math.floor((now + LINK_DAYS * DAY_MS) / 1000) * 1000);
  const fact = { kind: 'link-made', generation, expiresAt } as const;
  await writes.addFact({ order, key: `link ${order} ${generation}` as FactKey, at: now, by, fact });
  await writes.keep(referenceName(signer.referenceOf(order)), order);
  return { order, scope: null, generation, expiresAt };
}

/** The name under which the order of a reference is kept. */
export const referenceName = (reference: string): string => `handed ${reference}`;

/** A letter with the link, unless one waits already or went a moment ago. Returns whether one was put in the queue. */
export async function queueLetter(
  writes: OrderWrites,
  found: OrderFound,
  linking: Linking,
  settings: Pick<MailSettings, 'from'>,
): Promise<boolean> {
  const { now } = linking;
  const { id, placed } = found.state;
  if (placed === null || placed.contact.mail === '' || !mayBeHanded(found)) return false;
  const mails = (await writes.mailsOf(id)).filter(isOfLink);
  const isRecent = found.facts.some(
    ({ at, fact }) => fact.kind === 'handed-over' && fact.what === 'mail' && at > now - LETTER_PAUSE_MS,
  );
  if (isRecent || mails.some(({ outcome }) => outcome === 'waiting')) return false;
  const { generation } = await goodLink(writes, found, linking);
  await writes.putMail(queuedMail(id, { generation }, mails.length + 1, settings, now));
  return true;
}

/** That a withdrawal from the contract arrived goes to the buyer by letter, once (Directive 2011/83/EU, art. 11a(4)). */
export async function queueAcknowledgement(
  writes: OrderWrites,
  { state }: OrderFound,
  settings: Pick<MailSettings, 'from'>,
  now: StoredFact['at'],
): Promise<void> {
  const { id, placed, contractWithdrawn } = state;
  if (contractWithdrawn === null || !placed?.contact.mail) return;
  const mail = queuedMail(id, { withdrawnAt: contractWithdrawn.at }, contractWithdrawn.parts.length, settings, now);
  if (!(await writes.mailsOf(id)).some((one) => one.id === mail.id)) await writes.putMail(mail);
}

/** Nothing is taken back where there is nothing. */
export async function revokeLink(writes: OrderWrites, { state }: OrderFound, now: StoredFact['at']): Promise<void> {
  const { id: order, link } = state;
  if (link === null)
    throw new ShopError(409, 'Expected an order with a link to take back, but none was made for it yet.');
  const key = `revoked ${order} ${link.generation}` as FactKey;
  const fact = { kind: 'link-revoked', generation: link.generation } as const;
  await writes.addFact({ order, key, at: now, by: 'photographer', fact });
}

export interface Sign {
  readonly by: string;
  /** All that were shown to whoever signs. */
  readonly pictures: readonly PublicId[];
  readonly isSecondLook: boolean;
}

/** A sign is of the set of now and of no other: what was not looked at is not signed. */
export async function signSet(
  writes: OrderWrites,
  { state, offer }: OrderFound,
  { by, pictures, isSecondLook }: Sign,
  now: StoredFact['at'],
): Promise<void> {
  const release = releaseOf(state, offer);
  if (release.kind === 'open')
    throw new ShopError(409, 'Expected a set that waits for signs, but this one may be handed over already.');
  const signed = [...new Set(pictures)].sort();
  if (signed.join() !== release.pictures.join())
    throw new ShopError(
      409,
      `Expected a sign of the ${release.pictures.length} pictures of now, but it is of ${signed.length} and not of the same. Look through the set again and sign that.`,
    );
  const hash = createHash('sha256')
    .update(JSON.stringify([by, isSecondLook, signed]))
    .digest('hex')
    .slice(0, 32);
  const fact = { kind: 'signed', by, pictures: signed, ...(isSecondLook ? { isSecondLook } : {}) } as const;
  await writes.addFact({
    order: state.id,
    key: `sign ${state.id} ${hash}` as FactKey,
    at: now,
    by: 'photographer',
    fact,
  });
}

/**
 * What happens to orders, each in one transaction with the papers it calls for: placing, money in, money back, anything else that is
 * told. Told twice it happens once. Rules OR15–OR17, OR22, OR24–OR26.
 */
import { createHmac } from 'node:crypto';
import { consentTroubles, withdrawalFact } from '../../core/handover/law/index.js';
import {
  type BasketAsked,
  type Contact,
  type DownloadConsent,
  type Fact,
  type FactKey,
  type Minor,
  type Offer,
  type OrderId,
  type OrderPart,
  type OrderState,
  type PricedBasket,
  paperDue,
  partOf,
  priceBasket,
  type StoredFact,
  stateOf,
  type WayToPay,
} from '../../core/handover/orders/index.js';
import type { OrderWrites } from '../db/index.js';
import type { ProviderEvent } from '../payment/types.js';
import { ShopError } from '../shopError.js';
import type { ShopPorts } from './types.js';

export interface Placing {
  readonly meeting: Offer['meeting'];
  readonly basket: BasketAsked;
  readonly contact: Contact;
  readonly way: WayToPay;
  readonly consent: DownloadConsent | null;
  readonly language: string;
  /** Of the form, so that sending it again is the same order. */
  readonly formKey: string;
  /** What the buyer saw last; where it is another by now, nothing is ordered. */
  readonly seenToPay: Minor;
}

export type PlacingOutcome =
  | { readonly kind: 'placed'; readonly order: OrderId }
  /** Something cannot be had any more, or costs another price: to be shown again. */
  | { readonly kind: 'changed'; readonly basket: PricedBasket };

export async function placeOrder(ports: ShopPorts, placing: Placing): Promise<PlacingOutcome> {
  const order = orderIdOf(ports, placing.formKey);
  const key = `placed ${order}` as FactKey;
  return ports.store.write(async (writes) => {
    if (await writes.factByKey(key)) return { kind: 'placed', order };
    const offer = await offerOf(writes, placing.meeting);
    const basket = await pricedNow(writes, offer, placing.basket, ports.now());
    const isAsSeen = basket.troubles.length === 0 && basket.totals.toPay === placing.seenToPay;
    const { contact, consent, language } = placing;
    const isAgreed = consentTroubles({ lines: basket.lines, consent, at: ports.now() }).length === 0;
    if (!isAsSeen || !isAgreed || basket.lines.length === 0) return { kind: 'changed', basket };
    const prepaid = await prepaidOf(writes, offer, basket);
    const way = wayOf(basket, prepaid?.amount ?? 0, placing.way);
    // Another order took what had been paid before, since the form was shown.
    if (way === 'nothing-to-pay' && basket.totals.toPay > 0) return { kind: 'changed', basket };
    const isOfUse = basket.totals.off > 0 || prepaid !== null;
    const voucher = basket.voucher?.is === 'taken' && isOfUse ? basket.voucher.code : null;
    const fact: Fact = {
      kind: 'placed',
      meeting: offer.meeting,
      edition: offer.edition,
      lines: basket.lines,
      totals: basket.totals,
      voucher,
      way,
      contact,
      consent,
      language,
    };
    await writes.addFact({ order, key, at: ports.now(), by: 'buyer', fact });
    if (voucher !== null) await writes.takeVoucher(offer.meeting, voucher, order);
    if (prepaid)
      await writes.addFact({
        order,
        key: `prepaid ${order}` as FactKey,
        at: ports.now(),
        by: 'service',
        fact: prepaid,
      });
    await addPapers(writes, ports, order);
    return { kind: 'placed', order };
  });
}

/** Keyed, so that who knows a form's key cannot reckon the order's address. */
const orderIdOf = ({ settings }: ShopPorts, formKey: string): OrderId =>
  createHmac('sha256', Buffer.from(settings.secret, 'hex'))
    .update(`order ${formKey}`)
    .digest('hex')
    .slice(0, 32) as OrderId;

export async function offerOf(reads: Pick<OrderWrites, 'offer'>, meeting: Offer['meeting']): Promise<Offer> {
  const offer = await reads.offer(meeting);
  if (offer) return offer;
  throw new ShopError(404, 'There is nothing here under that address. Start again from the gallery.');
}

/** The basket against the offer and the vouchers of this moment. */
export async function pricedNow(
  reads: Pick<OrderWrites, 'voucher'>,
  offer: Offer,
  basket: BasketAsked,
  now: StoredFact['at'],
): Promise<PricedBasket> {
  const known = basket.voucherCode === null ? null : await reads.voucher(offer.meeting, basket.voucherCode);
  return priceBasket(basket, offer, () => known, now);
}

/** How much of it was paid before. */
export const prepaidAmount = async (
  reads: Pick<OrderWrites, 'voucher'>,
  offer: Offer,
  basket: PricedBasket,
): Promise<number> => (await prepaidOf(reads, offer, basket))?.amount ?? 0;

/** Who has paid before pays with that money first. */
async function prepaidOf(
  reads: Pick<OrderWrites, 'voucher'>,
  offer: Offer,
  { voucher, totals }: PricedBasket,
): Promise<Extract<Fact, { kind: 'paid' }> | null> {
  if (voucher?.is !== 'taken') return null;
  const known = await reads.voucher(offer.meeting, voucher.code);
  if (known?.voucher.kind !== 'prepaid') return null;
  const amount = Math.min(known.voucher.worth - (known.spent ?? 0), totals.toPay) as Minor;
  return amount <= 0 ? null : { kind: 'paid', amount, way: 'prepaid', reference: known.voucher.reference };
}

function wayOf({ totals }: PricedBasket, prepaid: number, asked: WayToPay): WayToPay {
  if (totals.toPay === 0) return 'nothing-to-pay';
  return prepaid >= totals.toPay ? 'prepaid' : asked;
}

/** What the photographer says of an order. Money is never given back that did not come. */
export async function tellFact(ports: ShopPorts, told: Omit<StoredFact, 'at'>): Promise<OrderState> {
  return ports.store.write(async (writes) => {
    const before = stateOf(told.order, await writes.factsOf(told.order));
    if (before.placed === null) throw new ShopError(404, `Expected the id of an order but ${told.order} is none here.`);
    if (!(await writes.factByKey(told.key))) refuse(before, told.fact);
    return record(ports, writes, told);
  });
}

function refuse({ paid, refunded, standing, link, placed }: OrderState, fact: Fact): void {
  if (fact.kind === 'link-revoked' && fact.generation > (link?.generation ?? 0))
    throw new ShopError(
      409,
      `Expected a link that was made, at most number ${link?.generation ?? 0} of this order, but got ${fact.generation}. Nothing was written.`,
    );
  const prints = placed?.lines.flatMap(({ asked }) => (asked.kind === 'print' ? [asked.picture] : [])) ?? [];
  if (fact.kind === 'handed-over' && !prints.includes(fact.picture ?? ''))
    throw new ShopError(409, 'Expected a print of this order, but it has none of that picture. Nothing was written.');
  if (fact.kind === 'refunded' && refunded + fact.amount > paid)
    throw new ShopError(
      409,
      `Expected a refund of at most ${paid - refunded} minor units, which is what was paid and not given back, but got ${fact.amount}. Nothing was written.`,
    );
  if (fact.kind === 'cancelled' && standing === 'paid' && paid > refunded)
    throw new ShopError(
      409,
      'Expected an order without money, but this one is paid. Give the money back first, then cancel it.',
    );
}

/** The buyer withdraws from the contract, as far as that right stands; told again nothing happens. What nobody paid for ends with it. */
export async function withdrawFromContract(
  ports: ShopPorts,
  order: OrderId,
  asked: readonly OrderPart[],
): Promise<void> {
  await ports.store.write(async (writes) => {
    const before = stateOf(order, await writes.factsOf(order));
    const fact = withdrawalFact(before, asked, ports.now());
    if (fact === null) return;
    const tell = (key: string, told: Fact) =>
      record(ports, writes, { order, key: `${key} ${order}` as FactKey, by: 'buyer', fact: told });
    const { link, placed, contractWithdrawn, toGiveBack, standing } = await tell(
      `contract-withdrawn ${fact.parts.join()}`,
      fact,
    );
    if (fact.parts.includes('downloads') && link !== null && !link.isRevoked)
      await tell(`contract-link ${link.generation}`, { kind: 'link-revoked', generation: link.generation });
    const isWhole = placed!.lines.every((line) => contractWithdrawn!.parts.includes(partOf(line)));
    const isEnded = isWhole && (toGiveBack === 0 || before.standing === 'waiting-for-money');
    if (isEnded && standing !== 'refunded') await tell('cancelled', { kind: 'cancelled', by: 'buyer' });
  });
}

/** What a provider says was signed by it, so it is believed, also of an order that is not here yet. */
export async function tellPayment(
  ports: ShopPorts,
  webhookId: string,
  providerKey: string,
  event: Exclude<ProviderEvent, { kind: 'nothing' }>,
): Promise<void> {
  const { order, amount, reference, kind, currency } = event;
  await ports.store.write(async (writes) => {
    if (!(await writes.addWebhook(`${providerKey} ${webhookId}`, ports.now()))) return;
    const { placed } = stateOf(order, await writes.factsOf(order));
    if (placed !== null && placed.totals.currency !== currency)
      throw new ShopError(422, `Expected an amount in ${placed.totals.currency} for this order but got ${currency}.`);
    const fact: Fact =
      kind === 'paid' ? { kind, amount, way: 'provider', reference } : { kind, amount, why: 'kindness', reference };
    const key = `${providerKey} ${kind} ${reference}` as FactKey;
    await record(ports, writes, { order, key, by: 'provider', fact });
  });
}

async function record(ports: ShopPorts, writes: OrderWrites, told: Omit<StoredFact, 'at'>): Promise<OrderState> {
  if (told.fact.kind === 'contact-removed') await writes.removeContact(told.order, told.key, ports.now());
  else await writes.addFact({ ...told, at: ports.now() });
  await addPapers(writes, ports, told.order);
  if (told.fact.kind === 'cancelled') await giveVoucherBack(ports, writes, told.order);
  return stateOf(told.order, await writes.factsOf(told.order));
}

/** Money of who had paid before goes back to the code it came from, and is then in this order no more. */
async function giveVoucherBack(ports: ShopPorts, writes: OrderWrites, order: OrderId): Promise<void> {
  const facts = await writes.factsOf(order);
  await writes.giveVoucherBack(order);
  const { paid, refunded } = stateOf(order, facts);
  for (const { fact } of facts) {
    const amount = fact.kind === 'paid' && fact.way === 'prepaid' ? Math.min(fact.amount, paid - refunded) : 0;
    if (fact.kind !== 'paid' || amount <= 0) continue;
    const back: Fact = { kind: 'refunded', amount: amount as Minor, why: 'cancelled', reference: fact.reference };
    await writes.addFact({
      order,
      key: `prepaid-back ${order}` as FactKey,
      at: ports.now(),
      by: 'service',
      fact: back,
    });
  }
}

/** Numbers are taken in the transaction of the fact that calls for them. */
async function addPapers(writes: OrderWrites, { settings, now }: ShopPorts, order: OrderId): Promise<void> {
  const facts = await writes.factsOf(order);
  const { placed } = stateOf(order, facts);
  if (placed === null) return;
  const offer = await offerOf(writes, placed.meeting);
  for (;;) {
    const due = paperDue(order, facts, await writes.papersOf(order), offer);
    if (due === null) return;
    const at = now();
    const series = `${settings.series}${due.kind === 'invoice' ? '' : 'C'}${new Date(at).getUTCFullYear()}`;
    await writes.addPaper(series, due.kind, { order, key: due.key, at }, due.body);
  }
}

/** Orders and what riders wrote, as the desk shows them: folded from the facts that were fetched, pictures found by their public ids. */
import type { BikeRef } from '../../core/arrange/types.js';
import {
  type CurrencyCode,
  type Minor,
  moneyText,
  type OrderId,
  type OrderState,
  stateOf,
} from '../../core/handover/orders/index.js';
import type { PublicId, PublicIdOf } from '../../core/handover/types.js';
import type { FetchedFact } from '../../host/orders/fetchedOrders.js';
import { referenceOf } from '../../shop/service/reference.js';
import { type Known, passesOf } from '../views/known.js';
import { pictureOf, riderLineOf } from '../views/riderLine.js';
import { wallIn } from '../views/wallTime.js';
import { capital, listed } from '../views/words.js';
import type { RiderMessage } from './service.js';
import type { MessageView, OrderPictureView, OrdersView, OrderView } from './types.js';

/** Amounts at the desk are written as in English, as the rest of it is. */
const inWords = (amount: number, currency: CurrencyCode): string => moneyText(amount as Minor, currency, 'en-GB');

type Placed = OrderState & { readonly placed: NonNullable<OrderState['placed']> };

interface Looked {
  readonly known: Known;
  readonly idOf: PublicIdOf;
  readonly bikes: ReadonlyMap<PublicId, BikeRef>;
}

/** One bike of each frame, for its crop: a rider's where one is known in it. */
export function lookedUp(known: Known, idOf: PublicIdOf): Looked {
  const bikes = new Map<string, BikeRef>();
  for (const rider of known.state.arrangement.riders)
    for (const pass of passesOf(known, rider)) for (const bike of pass.bikes) bikes.set(bike.frameId, bike);
  const all = known.state.arrangement.exposures.map(
    ({ frameId }) => [idOf('frame', frameId), bikes.get(frameId) ?? { frameId, subject: -1 }] as const,
  );
  return { known, idOf, bikes: new Map(all) };
}

const pictureBy = ({ known, bikes }: Looked, id: PublicId) => {
  const bike = bikes.get(id);
  return bike ? pictureOf(known, bike) : null;
};

function riderBy({ known, idOf }: Looked, id: PublicId) {
  const rider = known.state.arrangement.riders.find((one) =>
    [...(one.id === null ? [] : [one.id]), ...one.aliases].some((name) => idOf('rider', name) === id),
  );
  return rider ? riderLineOf(known, rider) : null;
}

/** Waiting for money first; among alike the newest first. */
export function orderViews(looked: Looked, facts: readonly FetchedFact[]): readonly OrderView[] {
  const meeting = looked.idOf('meeting', looked.known.state.about.id);
  const byOrder = new Map<OrderId, FetchedFact[]>();
  for (const one of facts) byOrder.set(one.order, [...(byOrder.get(one.order) ?? []), one]);
  return [...byOrder]
    .map(([order, told]) => ({ state: stateOf(order, told), told }))
    .filter((one): one is { state: Placed; told: FetchedFact[] } => one.state.placed?.meeting === meeting)
    .map(({ state, told }) => orderView(looked, state, told))
    .sort((a, b) => rank(a) - rank(b) || b.placedAt - a.placedAt);
}

const rank = ({ state }: OrderView): number => (state.standing === 'waiting-for-money' ? 0 : 1);

function orderView(looked: Looked, state: Placed, told: readonly FetchedFact[]): OrderView {
  const { placed } = state;
  const given = new Set(state.pictures);
  const pictures = [...new Set(placed.lines.flatMap((line) => line.pictures))].map(
    (id): OrderPictureView => ({ id, picture: pictureBy(looked, id), isOut: !given.has(id) }),
  );
  const riders = new Set(placed.lines.flatMap(({ asked }) => ('rider' in asked ? [asked.rider] : [])));
  return {
    reference: referenceOf(state.id),
    state,
    placedAt: wallIn(looked.known.state.about.zone, placed.at),
    name: placed.contact.name,
    pictures,
    riders: [...riders].flatMap((id) => riderBy(looked, id) ?? []),
    money: moneyOf(looked, placed.totals.currency, told),
  };
}

const WHY = {
  'wrong-rider': 'another rider’s pictures',
  'taken-down': 'taken down',
  cancelled: 'cancelled',
  kindness: 'as asked',
} as const;
const WAY = {
  cash: 'in cash',
  terminal: 'by card at the van',
  transfer: 'by transfer',
  provider: 'by card, through the provider',
  prepaid: 'paid before',
  'nothing-to-pay': 'nothing to pay',
} as const;

/** What the photographer told is a person's word; the rest was measured, as it were, by a provider. */
function moneyOf({ known }: Looked, currency: CurrencyCode, told: readonly FetchedFact[]): OrderView['money'] {
  return told.flatMap(({ at, by, fact }) => {
    if (fact.kind !== 'paid' && fact.kind !== 'refunded') return [];
    const amount = inWords(fact.amount, currency);
    const what = fact.kind === 'paid' ? `${amount} came ${WAY[fact.way]}` : `${amount} given back: ${WHY[fact.why]}`;
    const text = fact.reference === '' ? what : `${what} (${fact.reference})`;
    const said =
      by === 'photographer'
        ? ({ voice: 'initialled', text, initials: known.initials } as const)
        : ({ voice: 'printed', text } as const);
    return [{ at: wallIn(known.state.about.zone, at), said }];
  });
}

const SMALL = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');
const inLetters = (count: number): string => SMALL[count] ?? count.toLocaleString('en-GB');

export function headlineOf(orders: readonly OrderView[]): string {
  if (orders.length === 0) return 'Nobody has ordered yet.';
  const all = `${capital(inLetters(orders.length))} ${orders.length === 1 ? 'order' : 'orders'}`;
  const waiting = orders.filter(({ state }) => state.standing === 'waiting-for-money');
  const emptied = orders.filter(isPaidForNothing).length;
  const kept = emptied === 0 ? '' : ` ${capital(inLetters(emptied))} paid for pictures that are all taken out.`;
  if (waiting.length === 0) return `${all}, and nobody owes anything.${kept}`;
  const owed = new Map<CurrencyCode, number>();
  for (const { state } of waiting) {
    const { currency } = state.placed!.totals;
    owed.set(currency, (owed.get(currency) ?? 0) + state.owed);
  }
  const sums = listed([...owed].map(([currency, amount]) => inWords(amount, currency)));
  return `${all}, ${inLetters(waiting.length)} ${waiting.length === 1 ? 'waits' : 'wait'} for money: ${sums}.${kept}`;
}

/** Whose pictures are all gone, by a takedown for instance, and whose money is still here. */
const isPaidForNothing = ({ pictures, state }: OrderView): boolean =>
  pictures.length > 0 && pictures.every(({ isOut }) => isOut) && state.paid > state.refunded;

/** Newest first. */
export function messageViews(
  looked: Looked,
  orders: readonly OrderView[],
  messages: readonly RiderMessage[],
): NonNullable<OrdersView['messages']> {
  return [...messages]
    .sort((a, b) => b.seq - a.seq)
    .map(({ id, kind, at, words }): MessageView => {
      const picture = words.picture === undefined ? null : pictureBy(looked, words.picture);
      const has = ({ pictures }: OrderView) => pictures.some((one) => one.id === words.picture && !one.isOut);
      return {
        id,
        kind,
        at: wallIn(looked.known.state.about.zone, at),
        sentence: sentenceOf(kind, words),
        words: words.words ?? null,
        contact: words.contact ?? null,
        picture,
        rider: words.rider === undefined ? null : riderBy(looked, words.rider),
        orders: orders.filter(has).map(({ reference }) => reference),
      };
    });
}

function sentenceOf(kind: RiderMessage['kind'], words: RiderMessage['words']): string {
  if (kind === 'not-me') return 'Somebody looking for themselves says that this is another rider.';
  if (kind === 'take-down') return 'Somebody asks that this be taken down.';
  const said = [
    words.session && `session ${words.session}`,
    words.about && `about ${words.about}`,
    words.bike && `${words.bike} bike`,
    words.leathers && `${words.leathers} leathers`,
    words.number && `number ${words.number}`,
  ].filter((one) => one !== undefined && one !== '');
  return `Somebody can’t find themselves: ${said.length === 0 ? 'they did not say where' : listed(said as string[])}.`;
}

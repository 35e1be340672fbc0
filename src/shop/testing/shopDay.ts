/** An invented offer and a service over a database in memory, with a clock that is turned by hand. */
import { type Minor, minorOf, type Offer } from '../../core/handover/orders/index.js';
import { epochMsOf } from '../../core/units.js';
import { type OrderStore, openLibsqlOrders } from '../db/index.js';
import type { PaymentProvider } from '../payment/types.js';
import type { ShopPorts } from '../service/types.js';

export const MEETING = 'a'.repeat(32);
export const RIDER = 'b'.repeat(32);
export const pictureId = (n: number): string => n.toString(16).padStart(32, '0');
const minor = (value: number): Minor => minorOf(value, 'shopDay');
const tax = { taxRate: 2000, licence: 'personal' } as const;

export const offerOfDay: Offer = {
  v: 1,
  meeting: MEETING,
  edition: '2026-09-19-1',
  title: 'Open day <b>at</b> Fallow Ring',
  firstDay: '2026-09-19',
  lastDay: '2026-09-20',
  gallery: 'https://pictures.example.org/day',
  seller: {
    name: 'Trackside Pictures',
    contact: 'hello@example.org',
    lines: ['1 Paddock Lane', 'Tax no. 000 0000 00'],
  },
  prices: {
    currency: 'GBP',
    includesTax: true,
    isPaidByOrganiser: false,
    products: [
      { key: 'one', kind: 'picture', name: 'One picture', price: minor(1200), ...tax },
      {
        key: 'press',
        kind: 'picture',
        name: 'One picture for the press',
        price: minor(9000),
        taxRate: 2000,
        licence: 'press',
      },
      { key: 'day', kind: 'day', name: 'Your whole day', price: minor(4500), ...tax },
      { key: 'weekend', kind: 'weekend', name: 'Your whole weekend', price: minor(7000), ...tax },
      { key: 'paper', kind: 'print', name: 'Print, 30 × 20 cm', price: minor(1500), ...tax },
    ],
  },
  pictures: [1, 2, 3, 4].map((n) => ({ id: pictureId(n), day: n < 3 ? '2026-09-19' : '2026-09-20' })),
  riders: [
    { publicId: RIDER, livery: 'red bike, black leathers', pictures: [1, 2, 3].map(pictureId), isJoinedByGuess: false },
  ],
  withdrawn: [],
};

export interface ShopDay extends ShopPorts {
  turnClock(ms: number): void;
}

export async function shopDay(
  offer: Offer = offerOfDay,
  provider: PaymentProvider | null = null,
  opened?: OrderStore,
): Promise<ShopDay> {
  const store = opened ?? (await openLibsqlOrders(':memory:'));
  let now = Date.UTC(2026, 8, 20, 18, 0, 0);
  await store.write((writes) => writes.putOffer(offer, epochMsOf(now)));
  return {
    store,
    provider,
    parts: [],
    site: 'https://orders.example.org',
    settings: {
      secret: 'c'.repeat(64),
      series: 'T',
      ways: ['transfer', 'cash', 'terminal'],
      transferTo: ['Trackside Pictures', 'Account 00000000'],
    },
    now: () => epochMsOf(now),
    turnClock(ms) {
      now += ms;
    },
  };
}

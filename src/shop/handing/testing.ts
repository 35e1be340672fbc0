/** A service with handing over in it, finals that are drawn as noise, and an order in it that is paid. */
import { randomBytes } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hono } from 'hono';
import {
  type Fact,
  type FactKey,
  minorOf,
  type Offer,
  type OrderId,
  type OrderState,
  stateOf,
} from '../../core/handover/orders/index.js';
import type { BasketLine } from '../../core/handover/orders/types.js';
import type { PublicId } from '../../core/handover/types.js';
import type { OrderStore } from '../db/index.js';
import { placeOrder, tellFact } from '../service/deeds.js';
import { publicApp } from '../service/publicApp.js';
import type { ShopPorts } from '../service/types.js';
import { ShopError } from '../shopError.js';
import { MEETING, offerOfDay, pictureId, RIDER, type ShopDay, shopDay } from '../testing/shopDay.js';
import { Bringing } from './finals/bringing.js';
import { FinalStore } from './finals/finalStore.js';
import { Finals } from './finals/finals.js';
import { Handing } from './handing.js';
import type { FinalMaker, MailSettings } from './types.js';

/** Begins and ends as a JPEG does; what is between is nobody's picture. */
const noise = (bytes: number): Buffer =>
  Buffer.concat([Buffer.from('ffd8', 'hex'), randomBytes(bytes), Buffer.from('ffd9', 'hex')]);

export interface NoiseMaker extends FinalMaker {
  /** Each call: which pictures. */
  readonly calls: (readonly PublicId[])[];
  /** Of these there is none. */
  readonly refuses: Set<PublicId>;
}

export function noiseMaker(bytes = 40_000): NoiseMaker {
  const calls: (readonly PublicId[])[] = [];
  const refuses = new Set<PublicId>();
  return {
    calls,
    refuses,
    make: async (pictures, _, folder, onProgress) => {
      calls.push(pictures);
      const made = new Map<PublicId, { path: string } | { sentence: string }>();
      for (const [i, picture] of pictures.entries()) {
        const path = join(folder, `${picture}.jpg`);
        if (!refuses.has(picture)) await writeFile(path, noise(bytes + i));
        made.set(picture, refuses.has(picture) ? { sentence: 'The card is gone.' } : { path });
        onProgress(i + 1);
      }
      return made;
    },
  };
}

export interface HandingDay {
  readonly day: ShopDay;
  readonly app: Hono;
  readonly admin: Hono;
  readonly handing: Handing;
  readonly finals: Finals;
  readonly store: FinalStore;
  readonly dataFolder: string;
  /** Rounds until nothing is being made any more. */
  settle(): Promise<void>;
  close(): Promise<void>;
}

export interface HandingDaySpec {
  readonly offer?: Offer;
  readonly maker?: FinalMaker | null;
  readonly mail?: MailSettings | null;
  readonly orders?: OrderStore;
  readonly dataFolder?: string;
}

export async function handingDay(spec: HandingDaySpec = {}): Promise<HandingDay> {
  const { offer = offerOfDay, maker = noiseMaker(), mail = null } = spec;
  const day = await shopDay(offer, null, spec.orders);
  const dataFolder = spec.dataFolder ?? (await mkdtemp(join(tmpdir(), 'tyrewall-handing-')));
  const store = new FinalStore(dataFolder);
  const finals = new Finals(store, dataFolder, maker);
  const bringing = new Bringing(dataFolder, finals);
  const handing = new Handing({ shop: day, store, finals, bringing, mail });
  const admin = new Hono();
  handing.addToAdmin(admin);
  admin.onError((error, context) =>
    context.json({ problem: error.message }, error instanceof ShopError ? error.status : 422),
  );
  return {
    day,
    app: publicApp({ ...day, parts: [handing] }, { isBehindProxy: false, hosts: ['127.0.0.1'] }),
    admin,
    handing,
    finals,
    store,
    dataFolder,
    settle: async () => {
      await handing.work();
      await finals.idle();
      await handing.work();
    },
    close: async () => {
      await handing.close();
      await day.store.close();
      await rm(dataFolder, { recursive: true, force: true });
    },
  };
}

export const dayOfRider: BasketLine = {
  product: 'day',
  asked: { kind: 'day', rider: RIDER, day: '2026-09-19' },
  quantity: 1,
};
export const oneOf = (n: number, product = 'one'): BasketLine => ({
  product,
  asked: { kind: 'picture', picture: pictureId(n) },
  quantity: 1,
});

let forms = 0;
export async function placed(
  day: ShopPorts,
  lines: readonly BasketLine[] = [dayOfRider],
  contact = { name: 'Someone', mail: 'someone@example.org', address: null },
  language = 'en',
): Promise<OrderId> {
  const form = `form ${forms++}`;
  const placing = {
    meeting: MEETING,
    basket: { lines, voucherCode: null },
    contact,
    way: 'cash',
    consent: {
      immediateSupply: { at: day.now(), words: 'At once, <please>.' },
      lossOfCancellation: { at: day.now(), words: 'I know.' },
    },
    language,
    formKey: form,
  } as const;
  const first = await placeOrder(day, { ...placing, seenToPay: minorOf(0, 'test') });
  if (first.kind === 'placed') return first.order;
  const again = await placeOrder(day, { ...placing, seenToPay: first.basket.totals.toPay });
  if (again.kind === 'placed') return again.order;
  throw new Error(JSON.stringify(again));
}

export const stateNow = async (day: ShopDay, order: OrderId): Promise<OrderState> =>
  stateOf(order, await day.store.factsOf(order));

let told = 0;
export const tell = (day: ShopDay, order: OrderId, fact: Fact): Promise<OrderState> =>
  tellFact(day, { order, key: `test ${told++}` as FactKey, by: 'photographer', fact });

export async function paid(
  day: ShopDay,
  ...words: Parameters<typeof placed> extends [unknown, ...infer R] ? R : never
) {
  const order = await placed(day, ...words);
  const { owed } = await stateNow(day, order);
  await tell(day, order, { kind: 'paid', amount: owed, way: 'cash', reference: '' });
  return order;
}

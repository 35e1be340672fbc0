/**
 * A small meeting as its riders meet it: the gallery as it is made, on a plain server of files, and the order service beside it with
 * handing over; the photographer's deeds at it as functions.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { offerOf } from '../../src/core/handover/offerOf.js';
import { minorOf, type Offer, type OrderId, type OrderState } from '../../src/core/handover/orders/index.js';
import type { Gallery } from '../../src/core/handover/types.js';
import type { GestureId, RiderId } from '../../src/core/ids.js';
import type { Decision } from '../../src/core/log/types.js';
import type { FileMetadata } from '../../src/core/measure/types.js';
import { makeGallery, publicIdsOf } from '../../src/host/gallery/index.js';
import { downBy, placesInMade, shopPlace, takeDownAt } from '../../src/host/law/index.js';
import { finalsOfMeeting, openHanding } from '../../src/shop/handing/index.js';
import { type AdminClient, adminClient } from '../../src/shop/service/adminClient.js';
import { openShop } from '../../src/shop/service/openShop.js';
import { drawDay, galleryDay } from '../builders/galleryDay.js';
import { serveFiles } from '../builders/writtenGallery.js';

export const SIZES = { desk: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } } as const;
export type Size = keyof typeof SIZES;
export const PAPERS = (['phone', 'desk'] as const).flatMap((size) =>
  (['light', 'dark'] as const).map((colorScheme) => [size, colorScheme] as const),
);
const SECRET = 'ab'.repeat(32);
const SHOTS = process.env.SHOTS;
/** One rider goes by an id that a takedown can name. */
export const LEAVES = '00000000-0000-8000-8000-000000000001' as RiderId;

export interface Words {
  readonly meeting: string;
  readonly spot: string;
  readonly seller: string;
  readonly product: string;
  readonly livery: string;
}

const PLAIN: Words = {
  meeting: 'Open day at Fallow Ring',
  spot: 'Beacon',
  seller: 'Quill Pictures',
  product: 'One picture',
  livery: 'orange, white leathers',
};

export function offerTo(
  gallery: Gallery,
  arrangement: Parameters<typeof offerOf>[0]['arrangement'],
  ids: { meeting: string; address: string },
  words = PLAIN,
): Offer {
  const own = { taxRate: 2000, licence: 'personal' } as const;
  return offerOf({
    gallery,
    arrangement,
    log: { inForce: [] },
    about: {},
    ...ids,
    seller: { name: words.seller, contact: 'hello@quill.invalid', lines: ['1 Paddock Lane'] },
    prices: {
      currency: 'GBP',
      includesTax: true,
      isPaidByOrganiser: false,
      products: [
        { key: 'one', kind: 'picture', name: words.product, price: minorOf(1200, 'test'), ...own },
        { key: 'day', kind: 'day', name: 'Your whole day', price: minorOf(4500, 'test'), ...own },
      ],
    },
    withdrawn: [],
  });
}

/** The service alone, at an address that is known before there is a gallery. */
export async function openService(data: string, maker: Parameters<typeof openHanding>[1]['maker'] = null) {
  mkdirSync(data, { recursive: true, mode: 0o700 });
  const transferTo = ['Quill Pictures', 'Account 00000000'];
  const settings = { v: 1, secret: 'c'.repeat(64), ways: ['transfer', 'cash', 'terminal'], transferTo };
  writeFileSync(join(data, 'settings.json'), JSON.stringify(settings), { mode: 0o600 });
  const ends = { listen: '127.0.0.1', port: 0, adminListen: '127.0.0.1', adminPort: 0, isBehindProxy: false };
  const parts: Parameters<typeof openShop>[0]['parts'] = async (ports, dataFolder) => [
    await openHanding(ports, { dataFolder, maker }),
  ];
  const shop = await openShop({ ...ends, data, database: null, offers: [], site: null, parts });
  const key = readFileSync(join(data, 'admin.key'), 'utf8').trim();
  return {
    site: `http://127.0.0.1:${shop.port}`,
    admin: adminClient(`http://127.0.0.1:${shop.adminPort}`, key),
    close: () => shop.close(),
  };
}

export type Paddock = Awaited<ReturnType<typeof openPaddock>>;

export async function openPaddock({
  riders = 6,
  words = PLAIN,
}: {
  readonly riders?: number;
  readonly words?: Words;
} = {}) {
  const root = mkdtempSync(join(tmpdir(), 'tyrewall-paddock-'));
  const meetingFolder = join(root, 'meeting');
  const idOf = publicIdsOf(SECRET);
  const dayOf = (decisions: readonly Decision[] = []) => {
    const day = galleryDay({
      riders: Math.max(1, riders),
      decisions,
      about: { r0: { livery: words.livery }, r1: { id: LEAVES } },
    });
    const spots = day.about.spots.map((spot) => (spot.number === 1 ? { ...spot, name: words.spot } : spot));
    const about = { ...day.about, name: words.meeting, creator: words.seller, spots };
    const keepers = riders === 0 ? { ...day.keepers, byRider: new Map() } : day.keepers;
    // Whoever asks takes down in one gesture.
    const inForce = day.log.inForce.map((one) => ({ ...one, line: { ...one.line, gesture: 'asked' as GestureId } }));
    const log = { ...day.log, inForce };
    return { ...day, about, keepers, log, metadata: new Map<string, FileMetadata>() };
  };
  let state = dayOf();
  await drawDay(state, meetingFolder);
  const meeting = idOf('meeting', state.about.id);
  const maker = finalsOfMeeting(async () => ({
    state,
    meetingFolder,
    publicIdOf: idOf,
    termsOf: () => 'For yourself.',
  }));
  const service = await openService(join(root, 'orders'), maker);
  const files = await serveFiles(join(meetingFolder, 'made/gallery', state.about.firstDay));
  const { admin } = service;

  async function putUp() {
    const { gallery } = await makeGallery({
      state,
      meetingFolder,
      secret: SECRET,
      shop: service.site,
      address: files.site,
      publishing: { contact: 'hello@quill.invalid' },
    });
    return gallery;
  }
  const gallery = await putUp();
  await admin.putOffer(offerTo(gallery, state.arrangement, { meeting, address: files.site }, words));

  return {
    gallery,
    meeting,
    site: files.site,
    shop: service.site,
    admin,
    asked: files.asked,
    putUp,
    /** Carried everywhere, as `tyrewall take-down` does; answers the proof. */
    async takeDown(rider: RiderId) {
      state = dayOf([{ kind: 'take-down', rider }]);
      const gesture = 'asked' as GestureId;
      const places = [
        ...(await placesInMade(meetingFolder, state.arrangement.exposures)),
        shopPlace(admin, meeting, gesture),
      ];
      const down = downBy(gesture, state, idOf);
      const name = state.about.name;
      return takeDownAt({ meetingFolder, meeting: name, gesture, asked: 'rider', down, places, now: Date.now });
    },
    async close() {
      await service.close();
      await files.close();
      rmSync(root, { recursive: true, force: true });
    },
  };
}

/** What a photographer does at the van or at the bank: finds it by what the rider says, and says that the money is there. */
export async function paidAs(admin: AdminClient, reference: string, way: 'cash' | 'transfer'): Promise<OrderId> {
  const { id, owed } = await orderOf(admin, reference);
  await admin.tell(id, { key: `paid-${reference}`, fact: { kind: 'paid', amount: owed, way, reference: '' } });
  return id;
}

/** Whose pictures were joined by guess are looked through by two before they go. */
export async function signTwice(admin: AdminClient, reference: string): Promise<void> {
  const { id, pictures } = await orderOf(admin, reference);
  for (const by of ['RQ', 'MT']) await admin.sign(id, { by, pictures, isSecondLook: false });
}

async function orderOf(admin: AdminClient, reference: string): Promise<OrderState> {
  const [found] = await admin.ordersOf(reference);
  if (found === undefined) throw new Error(`Expected an order ${reference} at the service, but there is none.`);
  return found.state;
}

export const pageOf = async (browser: Browser, size: Size, more: BrowserContextOptions = {}): Promise<Page> =>
  (await browser.newContext({ viewport: SIZES[size], locale: 'en-GB', ...more })).newPage();

/** With `SHOTS=folder` every screen is kept, to be looked at. */
export async function shot(page: Page, name: string): Promise<void> {
  if (SHOTS === undefined) return;
  mkdirSync(SHOTS, { recursive: true });
  await page.screenshot({ path: join(SHOTS, `${name}.png`), fullPage: true });
}

/** Who orders, typed; both ticks. */
export async function fillOrder(page: Page, way: string, name = 'Someone'): Promise<void> {
  await page.getByLabel('Name').fill(name);
  await page.getByLabel('E-mail').fill('someone@example.org');
  for (const tick of await page.getByRole('checkbox').all()) await tick.check();
  await page.getByLabel(way).check();
}

/** How many files a zip lists (APPNOTE 6.3.10, 4.3.16: end of central directory, total number of entries). */
export function entriesIn(zip: Buffer): number {
  const end = zip.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'));
  return zip.readUInt16LE(end + 10);
}

/** Until the pictures are made the order's page says so; it is loaded again as it asks for. */
export async function linkToSet(page: Page): Promise<Locator> {
  const open = page.getByRole('link', { name: 'Fetch your pictures' });
  await expect
    .poll(
      async () => {
        await page.reload();
        return open.count();
      },
      { timeout: 40_000 },
    )
    .toBe(1);
  return open;
}

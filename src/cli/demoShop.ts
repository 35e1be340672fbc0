/** The invented meeting's gallery and order service, both on this machine alone and gone with the demo. */
import { writeFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { serve } from '@hono/node-server';
import { serveStatic } from '@hono/node-server/serve-static';
import { Hono } from 'hono';
import { once } from '../core/numeric/once.js';
import type { GalleryReport } from '../host/gallery/index.js';
import { amendAbout } from '../host/meeting/about.js';
import { openHanding } from '../shop/handing/openHanding.js';
import { openShop } from '../shop/service/openShop.js';
import { sharePart } from '../shop/sharing/index.js';
import { layOffer } from './layOffer.js';
import type { WholeDay } from './openWholeDay.js';
import { type AskWish, clientOf } from './ordersCommand.js';

/** Invented, as whoever sells is. */
export const PRICES = {
  seller: { name: 'Trackside Pictures', lines: ['1 Paddock Lane', 'Ebbstone'] },
  prices: {
    currency: 'GBP',
    includesTax: true,
    isPaidByOrganiser: false,
    products: [
      { key: 'one', kind: 'picture', name: 'One picture', price: 1200, taxRate: 2000, licence: 'personal' },
      { key: 'day', kind: 'day', name: 'Your whole day', price: 4500, taxRate: 2000, licence: 'personal' },
      {
        key: 'press',
        kind: 'picture',
        name: 'One picture for the press',
        price: 9000,
        taxRate: 2000,
        licence: 'press',
      },
      { key: 'print', kind: 'print', name: 'Print, 30 × 20 cm', price: 1500, taxRate: 2000, licence: 'personal' },
    ],
  },
};

export interface DemoShop {
  readonly gallery: string;
  /** By which the desk reaches the service. */
  readonly ask: AskWish;
  /** Once the gallery is made: what is sold of it. */
  offer(made: GalleryReport | null): Promise<void>;
  close(): Promise<void>;
}

/** `folder` holds what the service keeps; never the meeting. */
export async function openDemoShop(whole: WholeDay, folder: string): Promise<DemoShop> {
  const { meeting } = whole;
  const shop = await openShop({
    data: folder,
    database: null,
    offers: [],
    site: null,
    listen: '127.0.0.1',
    port: 0,
    adminListen: '127.0.0.1',
    adminPort: 0,
    isBehindProxy: false,
    parts: async (ports, dataFolder) => [
      await openHanding(ports, { dataFolder, maker: null }),
      sharePart(ports, join(dataFolder, 'shares')),
    ],
  });
  const shown = await serveFolder(join(meeting.folder, 'made', 'gallery', meeting.about.firstDay));
  await writeFile(join(meeting.folder, 'prices.json'), `${JSON.stringify(PRICES, null, 2)}\n`);
  await amendAbout(meeting.folder, {
    ordersAddress: `http://127.0.0.1:${shop.port}/`,
    galleryAddress: shown.address,
    contact: 'pictures@example.org',
  });
  const ask = { data: folder, from: `http://127.0.0.1:${shop.adminPort}` };
  return {
    gallery: shown.address,
    ask,
    async offer(made) {
      const laid = await layOffer(whole, made);
      if (laid !== null) await (await clientOf(ask)).putOffer(laid.offer);
    },
    async close() {
      shown.close();
      await shop.close();
    },
  };
}

interface Shown {
  readonly address: string;
  close(): void;
}

const serveFolder = (folder: string): Promise<Shown> =>
  new Promise((resolve, reject) => {
    // The folder comes with the gallery.
    const files = once(() => serveStatic({ root: folder }));
    const app = new Hono().use((context, next) => files()(context, next));
    const server = serve({ fetch: app.fetch, hostname: '127.0.0.1', port: 0 }, ({ port }: AddressInfo) =>
      resolve({ address: `http://127.0.0.1:${port}/`, close: () => void server.close() }),
    );
    server.on('error', reject);
  });

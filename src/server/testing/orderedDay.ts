/** A real order service beside a made-up day: it offers the pictures of a few of its riders, and riders order and write there. */
import { readFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Offer, OrderId } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import type { FrameId, GestureId, RiderId } from '../../core/ids.js';
import { meetingSecret, publicIdsOf } from '../../host/gallery/secret.js';
import { adminClient } from '../../shop/service/adminClient.js';
import { type OpenShop, openShop } from '../../shop/service/openShop.js';
import { offerOfDay } from '../../shop/testing/shopDay.js';
import type { OrderService } from '../orders/service.js';
import { knownOf, passesOf, pointOf } from '../views/known.js';
import type { FakeDay } from './fakeDay.js';
import { DAY } from './madeUpDay.js';

const RIDERS = 3;
const PICTURES = 4;

export interface OrderedDay {
  /** The meeting's. */
  readonly folder: string;
  readonly offer: Offer;
  readonly riders: readonly { readonly publicId: PublicId; readonly frames: readonly FrameId[] }[];
  readonly shop: OpenShop;
  readonly site: string;
  readonly service: () => Promise<OrderService>;
  /** A whole day of a rider, or single pictures. */
  place(lines: readonly string[], more?: Readonly<Record<string, string>>): Promise<OrderId>;
  dayLine(rider: number): string;
  pictureLine(rider: number, picture: number): string;
  write(kind: 'not-me' | 'cannot-find-me', words: Readonly<Record<string, string>>): Promise<void>;
  close(): Promise<void>;
}

export async function openOrderedDay(day: FakeDay): Promise<OrderedDay> {
  const root = await mkdtemp(join(tmpdir(), 'tyrewall-ordered-'));
  const folder = join(root, 'meeting');
  const idOf = publicIdsOf(await meetingSecret(folder));
  const known = knownOf(day.state());
  const chosen = day
    .state()
    .arrangement.riders.filter((rider) => passesOf(known, rider).length >= PICTURES)
    .slice(0, RIDERS);
  const riders = chosen.map((rider, n) => ({
    id: `5e0f0000-0000-4000-8000-00000000000${n}` as RiderId,
    livery: rider.livery,
    bikes: passesOf(known, rider)
      .slice(0, PICTURES)
      .map((pass) => pass.bikes[0]!),
  }));
  await day.decide(
    'minted' as GestureId,
    riders.map(({ id, bikes }) => ({ kind: 'rider-minted', rider: id, points: [pointOf(known, bikes[0]!)!] })),
  );
  const offered = riders.map(({ id, livery, bikes }) => ({
    publicId: idOf('rider', id),
    livery,
    pictures: bikes.map(({ frameId }) => idOf('frame', frameId)),
    isJoinedByGuess: false,
  }));
  const offer: Offer = {
    ...offerOfDay,
    meeting: idOf('meeting', day.state().about.id),
    title: 'Open day at Fallow Ring',
    firstDay: DAY,
    lastDay: DAY,
    gallery: null,
    pictures: offered.flatMap(({ pictures }) => pictures.map((id) => ({ id, day: DAY }))),
    riders: offered,
  };
  const data = join(root, 'service');
  const ends = { listen: '127.0.0.1', port: 0, adminListen: '127.0.0.1', adminPort: 0, isBehindProxy: false };
  const shop = await openShop({ ...ends, data, database: null, offers: [offer], site: null });
  const site = `http://127.0.0.1:${shop.port}`;
  const meeting = `${site}/${offer.meeting}`;
  return {
    folder,
    offer,
    riders: offered.map(({ publicId }, n) => ({ publicId, frames: riders[n]!.bikes.map(({ frameId }) => frameId) })),
    shop,
    site,
    service: async () =>
      adminClient(`http://127.0.0.1:${shop.adminPort}`, readFileSync(join(data, 'admin.key'), 'utf8').trim()),
    dayLine: (rider) => `day:day:${offered[rider]!.publicId}:${DAY}:1`,
    pictureLine: (rider, picture) => `one:picture:${offered[rider]!.pictures[picture]}:1`,
    async place(lines, more = {}) {
      const cookies = new Map<string, string>();
      const send = async (path: string, fields?: Record<string, string>) => {
        const cookie = [...cookies].map(([name, value]) => `${name}=${value}`).join('; ');
        const answer = await fetch(`${meeting}${path}`, {
          redirect: 'manual',
          headers: { cookie, origin: site },
          ...(fields ? { method: 'POST', body: new URLSearchParams(fields) } : {}),
        });
        for (const line of answer.headers.getSetCookie()) {
          const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(line)!;
          cookies.set(name, value);
        }
        return { text: await answer.text(), location: answer.headers.get('location') ?? '' };
      };
      const token = /name="token" value="([0-9a-f]{64})"/.exec(
        (await send(`/rider/${offered[0]!.publicId}`)).text,
      )![1]!;
      for (const line of lines) await send('/basket', { token, do: 'put', line });
      const seen = /name="seen" value="(\d+)"/.exec((await send('/order')).text)![1]!;
      const buyer = { name: 'R. Someone', mail: 'someone@example.org', way: 'cash', supply: 'yes', loss: 'yes' };
      const { location } = await send('/order', { token, seen, ...buyer, ...more });
      return location.replace('/order/', '') as OrderId;
    },
    async write(kind, words) {
      await fetch(`${meeting}/${kind}`, { method: 'POST', body: new URLSearchParams(words) });
    },
    async close() {
      await shop.close();
      await rm(root, { recursive: true });
    },
  };
}

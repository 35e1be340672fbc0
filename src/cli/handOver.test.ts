import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawDay, galleryDay } from '../../test/builders/galleryDay.js';
import { planGallery } from '../core/handover/index.js';
import type { RiderId } from '../core/ids.js';
import { type GalleryReport, meetingSecret, publicIdsOf } from '../host/gallery/index.js';
import { writeAbout } from '../host/meeting/about.js';
import { openShop } from '../shop/service/openShop.js';
import { PRICES } from './demoShop.js';
import { makeMeetingFinals, makeMeetingProofs } from './handOver.js';
import { refuseQuietSuccess } from './handOverCommands.js';
import { layOffer, tellService } from './layOffer.js';
import type { WholeDay } from './openWholeDay.js';
import { clientOf } from './ordersCommand.js';

const state = galleryDay({ riders: 3 });
const kept = new Set([...state.keepers.byRider.values()].flat().map(({ bike }) => bike.frameId));
const originalIn = (folder: string, frame: string) =>
  join(folder, 'cards/a1', state.arrangement.exposures.find(({ frameId }) => frameId === frame)!.path);

let folder: string;
let whole: WholeDay;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-hand-over-'));
  await drawDay(state, folder);
  await writeAbout(folder, state.about);
  await writeFile(originalIn(folder, [...kept][0]!), 'torn');
  const day = { settled: async () => state, original: (frame: string) => originalIn(folder, frame) };
  whole = { day, meeting: { folder, about: state.about } } as unknown as WholeDay;
});
afterAll(() => rm(folder, { recursive: true }));

it('OR42: wherever a gallery is made, what is sold of it is laid beside it; without prices nothing is', async () => {
  const { gallery } = planGallery({
    ...state,
    edition: 'first',
    contact: null,
    proofs: new Map([...kept].map((frame) => [frame, { widthPx: 9, heightPx: 6 }])),
    publicIdOf: publicIdsOf(await meetingSecret(folder)),
    mint: (face) => `minted ${face}` as RiderId,
  });
  const at = { day: { state: () => state }, meeting: { folder } } as unknown as WholeDay;
  const report = { folder: join(folder, 'first'), gallery, wasStopped: false } as GalleryReport;
  expect(await layOffer(at, report)).toBeNull();
  await writeFile(join(folder, 'prices.json'), '{"seller":{}}');
  await expect(layOffer(at, report)).rejects.toThrow('The gallery is made; mend the file');
  await writeFile(join(folder, 'prices.json'), JSON.stringify(PRICES));
  const laid = await layOffer(at, report);
  expect(laid!.sentence).toContain('first.offer.json: for tyrewall orders --offer.');
  expect(laid!.offer.prices.products.map(({ key }) => key)).toEqual(['one', 'day', 'press', 'print']);
  expect(await layOffer(at, { ...report, wasStopped: true })).toBeNull();

  const data = join(folder, '../', `${basename(folder)}-orders`);
  const [listen, port] = ['127.0.0.1', 0];
  const shop = await openShop({
    ...{ data, database: null, offers: [laid!.offer], site: null, isBehindProxy: false },
    ...{ listen, port, adminListen: listen, adminPort: port },
  });
  const ask = { data, from: `http://127.0.0.1:${shop.adminPort}` };
  const withdrawn = [laid!.offer.meeting];
  const now = { ...laid!, offer: { ...laid!.offer, withdrawn } };
  expect(await tellService(now, ask)).toContain('the order service sells by it from now on.');
  expect((await (await clientOf(ask)).offers()).map((one) => one.withdrawn)).toEqual([withdrawn]);
  await shop.close();
  expect(await tellService(now, ask)).toContain('Say tyrewall orders offer with that file once it runs.');
  await rm(data, { recursive: true });
});

describe('what was refused', { timeout: 180_000 }, () => {
  it('FI8: is counted beside what was made, of proofs and of finals', async () => {
    const proofs = await makeMeetingProofs(whole, () => {});
    const finals = await makeMeetingFinals(whole, {}, () => {});
    for (const [made, noun] of [
      [proofs, 'proof'],
      [finals, 'final'],
    ] as const) {
      expect(made.refused).toBe(1);
      const [first, second] = made.sentence.split('\n');
      expect(first).toContain(`${kept.size - 1} ${noun}s in made/${noun}s`);
      expect(second).toMatch(/^Expected a whole picture in .*, 4 bytes, but it could not be read/);
    }
  });

  it('FI8: ends a command as a failure with the number, and nothing refused ends it well', () => {
    expect(() => refuseQuietSuccess(0)).not.toThrow();
    expect(() => refuseQuietSuccess(1)).toThrow('1 picture was refused, as said above; all others are done.');
    expect(() => refuseQuietSuccess(3)).toThrow('3 pictures were refused, as said above; all others are done.');
  });
});

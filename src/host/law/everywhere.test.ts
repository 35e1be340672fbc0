/**
 * One request, carried to all places of a made gallery at once: this disk, laid folders, a folder, an SFTP server and a bucket it was put
 * up to, and the order service as it runs. Afterwards every file anywhere is read. Rules LW10, PU6.
 */
import { cp, mkdir, mkdtemp, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { drawDay, galleryDay } from '../../../test/builders/galleryDay.js';
import { namesOf } from '../../core/finish/index.js';
import { isWhole, planTakeDown } from '../../core/handover/law/index.js';
import { offerOf } from '../../core/handover/offerOf.js';
import { idsIn } from '../../core/handover/putUp/index.js';
import type { GestureId, RiderId } from '../../core/ids.js';
import { openHanding } from '../../shop/handing/index.js';
import { noiseMaker, placed } from '../../shop/handing/testing.js';
import { adminClient } from '../../shop/service/adminClient.js';
import { openShop } from '../../shop/service/openShop.js';
import type { ShopPorts } from '../../shop/service/types.js';
import { sharePart } from '../../shop/sharing/index.js';
import { MEETING, offerOfDay } from '../../shop/testing/shopDay.js';
import { makeGallery, publicIdsOf } from '../gallery/index.js';
import { layOut } from '../gallery/layOut.js';
import { filesIn } from '../gallery/takeDown.js';
import { csvText } from '../organiser/index.js';
import { keepPlace, openPlace, putUp } from '../putUp/index.js';
import { KINDS } from '../putUp/testing/servers.js';
import { downBy } from './down.js';
import { everyPlace } from './everyPlace.js';
import { rememberLaid } from './laidFolders.js';
import { framesByName } from './placesHere.js';
import { shopPlace } from './placesOutside.js';
import { takeDownAt } from './takeDownEverywhere.js';

const SECRET = 'ab'.repeat(32);
const GESTURE = 'one-request' as GestureId;
const idOf = publicIdsOf(SECRET);
const about = { r1: { id: '00000000-0000-8000-8000-000000000001' } };
const before = galleryDay({ riders: 4, about });
const rider = before.arrangement.riders.find(({ id }) => id !== null)!;
const plan = planTakeDown({ kind: 'rider', rider: rider.key }, { ...before, mint: () => 'none' as RiderId });

/** Each decision of the builder is a gesture of its own; a person asks in one. */
function afterwards() {
  const day = galleryDay({ riders: 4, about, decisions: plan.decisions });
  const inForce = day.log.inForce.map((one) => ({ ...one, line: { ...one.line, gesture: GESTURE } }));
  return { ...day, log: { ...day.log, inForce } };
}

it('LW10: a takedown leaves nothing anywhere, waits for a folder that is not there, and nothing of it comes back', async () => {
  const root = await mkdtemp(join(tmpdir(), 'tyrewall-everywhere-'));
  const [meetingFolder, stateRoot, web, handed, data] = ['meeting', 'state', 'web', 'for-organiser', 'orders'].map(
    (name) => join(root, name),
  ) as [string, string, string, string, string];
  const stateFolder = join(stateRoot, 'meetings', before.about.id);
  await mkdir(stateFolder, { recursive: true });
  await drawDay(before, meetingFolder);
  const making = { meetingFolder, secret: SECRET };
  const made = await makeGallery({ ...making, state: before });
  const offer = offerOf({
    ...before,
    log: { inForce: [] },
    gallery: made.gallery,
    meeting: MEETING,
    address: null,
    seller: offerOfDay.seller,
    prices: offerOfDay.prices,
    withdrawn: [],
  });
  await writeFile(`${made.folder}.offer.json`, JSON.stringify(offer));
  await rememberLaid(stateFolder, 'gallery', web);
  await layOut(made.folder, meetingFolder, web);

  // What went to the organiser, here and behind a password at the service.
  const names = namesOf(before.arrangement.exposures);
  const files = [
    plan.frames[0]!,
    before.arrangement.exposures.find(({ frameId }) => !plan.frames.includes(frameId))!.frameId,
  ].map((frame, i) => `0${i + 1}-${names.get(frame)}.jpg`);
  await mkdir(join(handed, 'pictures'), { recursive: true });
  for (const file of files) await writeFile(join(handed, 'pictures', file), file);
  await writeFile(join(handed, 'contact-sheet.pdf'), 'drawn of both');
  await writeFile(
    join(handed, 'captions.csv'),
    csvText(
      ['no', 'file'],
      files.map((text, i) => [{ number: `${i}` }, { text }]),
    ),
  );
  await writeFile(join(handed, 'share.json'), JSON.stringify({ pictures: files.map((file) => ({ file })) }));
  await rememberLaid(stateFolder, 'organiser', handed);
  await cp(handed, join(data, 'shares', 'd'.repeat(32)), { recursive: true });

  const servers = await Promise.all(KINDS.map(async ([name, start]) => ({ name, server: await start() })));
  const lying = async () => {
    const texts = new Map<string, string>();
    const proof =
      /\/taken-down\/|\/put-up\/[\w-]+\.(?:json|notes)|\.pictures\.jsonl$|\.offer\.json$|orders\.db|\/cards\//;
    for (const path of (await filesIn(root)).filter((one) => !proof.test(`/${one}`)))
      texts.set(path, (await readFile(join(root, path))).toString('latin1'));
    for (const { name, server } of servers) {
      const place = await openPlace(server.address);
      for (const { path } of await place.list(''))
        texts.set(`${name} ${path}`, Buffer.from((await place.read(path))!).toString('latin1'));
      await place.close();
    }
    return texts;
  };
  const putUpEverywhere = async (withdrawn: ReadonlySet<string>) => {
    for (const { name, server } of servers) {
      const place = await openPlace(server.address);
      const mark = idOf('meeting', before.about.id);
      await putUp(made.edition, { place, name, meetingFolder, withdrawn, mark, now: () => new Date() });
      await place.close();
    }
  };
  for (const { name, server } of servers) await keepPlace(stateRoot, name, server.address);
  await putUpEverywhere(new Set());

  let ports!: Omit<ShopPorts, 'parts'>;
  const ends = { listen: '127.0.0.1', port: 0, adminListen: '127.0.0.1', adminPort: 0, isBehindProxy: false };
  const start = () =>
    openShop({
      ...ends,
      data,
      database: null,
      offers: [offer],
      site: null,
      parts: async (given, dataFolder) => {
        ports = given;
        return [
          await openHanding(given, { dataFolder, maker: noiseMaker() }),
          sharePart(given, join(dataFolder, 'shares')),
        ];
      },
    });
  let shop = await start();
  const clientNow = async () =>
    adminClient(`http://127.0.0.1:${shop.adminPort}`, (await readFile(join(data, 'admin.key'), 'utf8')).trim());
  const admin = await clientNow();
  const asked = { kind: 'day', rider: idOf('rider', rider.id!), day: before.about.firstDay } as const;
  const order = await placed({ ...ports, parts: [] }, [{ product: 'day', asked, quantity: 1 }]);
  const [{ state: sold }] = (await admin.orders()) as [Awaited<ReturnType<typeof admin.orders>>[number]];
  await admin.tell(order, { key: 'cash-all', fact: { kind: 'paid', amount: sold.owed, way: 'cash', reference: '' } });
  if (offer.riders.find(({ publicId }) => publicId === asked.rider)!.isJoinedByGuess)
    for (const by of ['RQ', 'MT']) await admin.sign(order, { by, pictures: sold.pictures, isSecondLook: false });
  await expect.poll(async () => (await admin.orders())[0]?.state.link ?? null, { timeout: 20_000 }).not.toBeNull();
  const { address } = await admin.link(order, null);
  expect((await fetch(`${address}/all.zip`)).status).toBe(200);

  const state = afterwards();
  const down = downBy(GESTURE, state, idOf);
  const words = [...down.ids, ...plan.frames, ...plan.frames.map((frame) => names.get(frame)!)];
  const showing = async (): Promise<readonly string[]> => {
    const ids = new Set<string>(words);
    const shows = (text: string): boolean =>
      idsIn(text).some((id) => ids.has(id)) || words.some((word) => text.includes(word));
    return [...(await lying())].filter(([path, text]) => shows(path) || shows(text)).map(([path]) => path);
  };
  expect((await showing()).length).toBeGreaterThan(100);
  const takeDown = async () => {
    const { exposures } = state.arrangement;
    const byName = await framesByName(meetingFolder, exposures);
    const meeting = state.about.id;
    const now = () => new Date();
    const atShop = [shopPlace(await clientNow(), MEETING, GESTURE, byName)];
    const everywhere = { meetingFolder, stateFolder, otherDisks: [], exposures, meeting, idOf, shop: atShop, now };
    const run = { meetingFolder, meeting: 'Ebbstone', gesture: GESTURE, asked: 'rider', down, now: Date.now } as const;
    return (await takeDownAt({ ...run, places: await everyPlace(everywhere) })).proof;
  };

  await rename(handed, `${handed}-away`);
  const first = await takeDown();
  expect(first.places.filter(({ standing }) => standing === 'pending')).toMatchObject([
    { place: expect.stringContaining('for-organiser'), sentence: expect.stringContaining('--gone') },
  ]);
  await rename(`${handed}-away`, handed);
  const proof = await takeDown();
  expect(isWhole(proof)).toBe(true);
  expect(await showing()).toEqual([]);
  const counts = new Map(proof.places.map(({ place, removed }) => [place, removed.length]));
  for (const { name } of servers) expect(counts.get(`put up to ${name}`), name).toBeGreaterThan(10);
  // Finals, the page's picture and its three papers, the offer, and the order's pictures.
  expect(counts.get('order service')).toBeGreaterThan(4 + sold.pictures.length * 2);
  expect([409, 410]).toContain((await fetch(`${address}/all.zip`)).status);

  // Made, put up and started again, with the offer of before: nothing returns.
  await makeGallery({ ...making, state });
  await layOut(made.folder, meetingFolder, web);
  await putUpEverywhere(down.ids);
  await shop.close();
  shop = await start();
  expect(await showing()).toEqual([]);
  const [offered] = await (await clientNow()).offers();
  expect(offered!.riders.map(({ publicId }) => publicId)).not.toContain(asked.rider);
  expect(offered!.withdrawn).toEqual(expect.arrayContaining([...sold.pictures]));

  await shop.close();
  for (const { server } of servers) await server.close();
  await rm(root, { recursive: true, force: true });
}, 120_000);

/** Rules HD13–HD16 of docs/rules/handing.md. */
import { createHash } from 'node:crypto';
import { appendFile, mkdir, mkdtemp, readdir, readFile, rm, truncate, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hono } from 'hono';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { logOf } from '../../../../test/builders/arrangement.js';
import { drawDay, galleryDay } from '../../../../test/builders/galleryDay.js';
import { exiftool } from '../../../../test/builders/pictures.js';
import type { PublicIdOf } from '../../../core/handover/types.js';
import type { FrameId } from '../../../core/ids.js';
import { ShopError } from '../../shopError.js';
import { pictureId } from '../../testing/shopDay.js';
import { handingDay, noiseMaker, oneOf, paid, stateNow } from '../testing.js';
import type { FinalMaker, FinalWish } from '../types.js';
import { bringFinals } from './bringFinals.js';
import { Bringing } from './bringing.js';
import { FinalStore } from './finalStore.js';
import { Finals } from './finals.js';
import { finalsOfMeeting } from './meetingFinals.js';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-finals-of-orders-'));
});
afterEach(() => rm(folder, { recursive: true }));

const wish = (n: number, change: Partial<FinalWish> = {}): FinalWish => ({
  picture: pictureId(n),
  licence: 'personal',
  longEdgePx: null,
  ...change,
});
const service = (maker: FinalMaker | null) => {
  const store = new FinalStore(folder);
  return { store, finals: new Finals(store, folder, maker) };
};

describe('finals on demand', () => {
  it('HD13: are made once, however many ask, in batches of one licence and size', async () => {
    const maker = noiseMaker();
    const { finals, store } = service(maker);
    let settled = 0;
    finals.onSettled(() => settled++);
    const asked = [wish(1), wish(2), wish(1), wish(1, { longEdgePx: 2048 }), wish(2)];
    expect(await Promise.all(asked.map((one) => finals.want(one)))).toEqual(asked.map(() => ({ kind: 'being-made' })));
    expect(finals.progress().waiting).toBe(3);
    await finals.idle();
    expect(maker.calls.map((pictures) => [...pictures].sort())).toEqual([[pictureId(1), pictureId(2)], [pictureId(1)]]);
    expect([settled, finals.progress().waiting]).toEqual([2, 0]);
    const ready = await finals.want(wish(1));
    expect(ready).toEqual({ kind: 'ready', ...(await store.find(wish(1))) });
    expect(await readdir(join(folder, 'making'))).toEqual([]);
  });

  it('HD13: stand with the sums of their bytes, also after a new start', async () => {
    const { finals } = service(noiseMaker());
    await finals.want(wish(1));
    await finals.idle();
    const found = await new FinalStore(folder).find(wish(1));
    const bytes = await readFile(found!.path);
    expect(found).toMatchObject({
      bytes: bytes.length,
      sha256: createHash('sha256').update(bytes).digest('hex'),
    });
  });

  it('HD14: of which less or nothing is there, or no record, are made again', async () => {
    const maker = noiseMaker();
    const { finals, store } = service(maker);
    const harms = [
      (path: string) => truncate(path, 100),
      (path: string) => rm(path),
      (path: string) => rm(`${path}.json`),
      (path: string) => writeFile(`${path}.json`, '{"v": 1, "by'),
    ];
    for (const harm of [null, ...harms]) {
      await harm?.(store.pathOf(wish(1)));
      expect((await finals.want(wish(1))).kind).toBe('being-made');
      await finals.idle();
      expect((await finals.want(wish(1))).kind).toBe('ready');
    }
    expect(maker.calls).toHaveLength(5);
  });

  it('HD14: what a killed program left half written goes at a later start; what is gone on with stays', async () => {
    const { finals, store } = service(noiseMaker());
    await finals.want(wish(1));
    await finals.idle();
    const lays = (name: string) => writeFile(join(folder, name), 'half');
    const [own, brought] = [`finals/${pictureId(1)}`, 'bringing'];
    await mkdir(join(folder, brought));
    for (const name of ['.unfinished-old', '.unfinished-young']) await lays(`${own}/${name}`);
    for (const n of [1, 2]) await lays(`${brought}/${pictureId(n)}-personal-full-0123456789abcdef`);
    await utimes(join(folder, own, '.unfinished-old'), 0, 0);
    await store.removeLeftOver(Date.now());
    await new Bringing(folder, finals).removeLeftOver();
    expect((await readdir(join(folder, own))).sort()).toEqual([
      '.unfinished-young',
      'personal-full.jpg',
      'personal-full.jpg.json',
    ]);
    expect(await readdir(join(folder, brought))).toEqual([`${pictureId(2)}-personal-full-0123456789abcdef`]);
  });

  it('HD14: that came to nothing say why until they are tried again; a maker that fails is no end', async () => {
    const maker = noiseMaker();
    let isBroken = true;
    const { finals } = service({
      make: (...words) => (isBroken ? Promise.reject(new Error('The disk is full.')) : maker.make(...words)),
    });
    await finals.want(wish(1));
    await finals.idle();
    expect(await finals.want(wish(1))).toEqual({ kind: 'cannot', sentence: 'The disk is full.' });
    isBroken = false;
    finals.tryAgain();
    await finals.want(wish(1));
    await finals.idle();
    expect((await finals.want(wish(1))).kind).toBe('ready');
  });

  it('HD13: of a picture that was taken down go, in every size and licence', async () => {
    const { finals, store } = service(noiseMaker());
    for (const one of [wish(1), wish(1, { licence: 'press' }), wish(2)]) await finals.want(one);
    await finals.idle();
    const { sha256 } = (await store.find(wish(1)))!;
    const removed = await store.removeAll(new Set([pictureId(1), pictureId(9)]));
    expect(removed.map(({ what }) => what)).toEqual(
      ['personal-full', 'press-full'].map((name) => `finals/${pictureId(1)}/${name}.jpg`),
    );
    expect(removed[0]!.sha256).toBe(sha256);
    expect(await readdir(join(folder, 'finals'))).toEqual([pictureId(2)]);
    expect(await store.removeAll(new Set([pictureId(1)]))).toEqual([]);
  });
});

describe('finals that are brought', () => {
  const content = Buffer.concat([Buffer.from('ffd8', 'hex'), Buffer.alloc(1000, 7), Buffer.from('ffd9', 'hex')]);
  const sha256 = createHash('sha256').update(content).digest('hex');
  const piece = (from: number, to: number, bytes = content) => ({
    from,
    of: bytes.length,
    sha256,
    bytes: new Uint8Array(bytes.subarray(from, to)),
  });

  it('HD16: come in pieces that go on where the last one ended, and stand once they are whole', async () => {
    const { finals } = service(null);
    expect(await finals.want(wish(1))).toEqual({ kind: 'waits-for-laptop' });
    const bringing = new Bringing(folder, finals);
    expect(await bringing.add(wish(1), piece(0, 400))).toEqual({ bytes: 400, isWhole: false });
    await expect(bringing.add(wish(1), piece(0, 400))).rejects.toThrow(
      /goes on at byte 400 of 1004 but got 400 bytes from 0/,
    );
    await expect(bringing.add(wish(1), piece(500, 600))).rejects.toThrow(/goes on at byte 400/);
    const again = new Bringing(folder, finals);
    expect(await again.bytesOf(wish(1), sha256)).toBe(400);
    // All came, and the service was killed before it looked: an empty piece is enough.
    await appendFile(join(folder, 'bringing', (await readdir(join(folder, 'bringing')))[0]!), content.subarray(400));
    expect(await again.add(wish(1), piece(1004, 1004))).toEqual({ bytes: 1004, isWhole: true });
    expect(await finals.want(wish(1))).toMatchObject({ kind: 'ready', bytes: 1004, sha256 });
    expect(finals.wanted()).toEqual([]);
  });

  it('LW10: half brought and taken down, its pieces go and are told of', async () => {
    const bringing = new Bringing(folder, service(null).finals);
    for (const n of [1, 2]) await bringing.add(wish(n), piece(0, 400));
    expect(await bringing.forget(new Set([pictureId(1)]))).toMatchObject([{ bytes: 400 }]);
    expect([await bringing.bytesOf(wish(1), sha256), await bringing.bytesOf(wish(2), sha256)]).toEqual([0, 400]);
  });

  it('HD16: with another sum, or no JPEG, are none', async () => {
    const { finals } = service(null);
    const bringing = new Bringing(folder, finals);
    const other = Buffer.from(content).fill(8, 2, 10);
    await expect(bringing.add(wish(1), piece(0, 1004, other))).rejects.toThrow(/Expected 1004 bytes with the SHA-256/);
    const text = Buffer.alloc(500, 'text');
    const said = { ...piece(0, 500, text), sha256: createHash('sha256').update(text).digest('hex') };
    await expect(bringing.add(wish(1), said)).rejects.toThrow(/whole JPEG/);
    expect((await finals.want(wish(1))).kind).toBe('waits-for-laptop');
    expect(await readdir(join(folder, 'bringing'))).toEqual([]);
  });

  it('HD16: the laptop asks, makes and brings; cut off it goes on; then the link is made', async () => {
    const here = await handingDay({ maker: null });
    try {
      const order = await paid(here.day, [oneOf(4), oneOf(3)]);
      await here.settle();
      const maker = noiseMaker(9_000_000);
      maker.refuses.add(pictureId(3));
      let puts = 0;
      const ask =
        (isCut: boolean) => async (path: string, init?: { method: string; body?: Uint8Array<ArrayBuffer> }) => {
          if (init?.method === 'PUT' && ++puts === 2 && isCut) throw new Error('The signal went.');
          return here.admin.request(path, init);
        };
      await expect(bringFinals(ask(true), maker)).rejects.toThrow('The signal went.');
      const { brought, failed } = await bringFinals(ask(false), maker);
      expect([brought, failed.map(({ wish: { picture }, sentence }) => [picture, sentence])]).toEqual([
        1,
        [[pictureId(3), 'The card is gone.']],
      ]);
      expect((await here.finals.want(wish(3))).kind).toBe('cannot');
      await here.settle();
      expect((await stateNow(here.day, order)).link?.generation).toBe(1);
    } finally {
      await here.close();
    }
  });

  it('HD16: a service that says no is a sentence', async () => {
    const app = new Hono();
    app.get('/api/finals', (context) => context.text('Who are you?', 401));
    await expect(bringFinals(async (path) => app.request(path), noiseMaker())).rejects.toThrow(ShopError);
  });
});

/** Children are started from TypeScript here, which takes a busy machine a while. */
describe('finals of a meeting', { timeout: 180_000 }, () => {
  const publicIdOf: PublicIdOf = (kind, what) =>
    createHash('sha256').update(`${kind} ${what}`).digest('hex').slice(0, 32);

  it('HD15: are whole, without a mark, say the licence’s terms, whether somebody keeps them or not; taken down there is none', async () => {
    const all = galleryDay({ riders: 2 });
    const meetingFolder = join(folder, 'meeting');
    await drawDay(all, meetingFolder);
    const [kept] = [...all.keepers.byRider.values()].flat();
    const frames = new Set([...all.keepers.byRider.values()].flat().map(({ bike }) => bike.frameId));
    const left = all.arrangement.exposures.find(({ frameId }) => !frames.has(frameId)) ?? all.arrangement.exposures[1]!;
    const down = all.arrangement.exposures.find(
      ({ frameId }) => frameId !== left.frameId && frameId !== kept!.bike.frameId,
    )!;
    const state = { ...all, log: logOf([{ kind: 'take-down', file: down.mainFile }]) };
    const ids = new Map<FrameId, string>(
      [kept!.bike.frameId, left.frameId, down.frameId].map((frame) => [frame, publicIdOf('frame', frame)]),
    );
    const maker = finalsOfMeeting(async () => ({
      state: { ...state, keepers: { ...state.keepers, byRider: new Map([[kept!.rider, [kept!]]]) } },
      meetingFolder,
      publicIdOf,
      termsOf: (licence) => `For ${licence} use, as agreed.`,
    }));
    const { finals, store } = service(maker);
    const wishes = [...ids.values(), 'f'.repeat(32)].map((picture) =>
      wish(1, { picture, licence: 'press', longEdgePx: 450 }),
    );
    for (const one of wishes) await finals.want(one);
    await finals.idle();
    const answers = await Promise.all(wishes.map((one) => finals.want(one)));
    expect(answers.map(({ kind }) => kind)).toEqual(['ready', 'ready', 'cannot', 'cannot']);
    expect(answers.slice(2).map((answer) => 'sentence' in answer && answer.sentence)).toEqual([
      'It was taken down or is held back, so there is no final of it.',
      expect.stringMatching(/Expected it among the frames of this meeting, but it is of none/),
    ]);
    const path = store.pathOf(wishes[0]!);
    expect(await sharp(path).metadata()).toMatchObject({ width: 450, height: 300, space: 'srgb' });
    expect(
      await unlike(
        path,
        join(
          meetingFolder,
          'cards/a1',
          all.arrangement.exposures.find(({ frameId }) => frameId === kept!.bike.frameId)!.path,
        ),
      ),
    ).toBeLessThan(60);
    const read = exiftool(['-j', '-G1', path]);
    if (read !== null) expect(JSON.parse(read)[0]['XMP-xmpRights:UsageTerms']).toBe('For press use, as agreed.');
    // The photographer's own finals are not touched.
    expect(await readdir(join(meetingFolder, 'made')).catch(() => [])).toEqual([]);
  });

  /** Largest distance of one channel; a mark's white on dark would be 200. */
  async function unlike(final: string, original: string): Promise<number> {
    const { width, height } = await sharp(final).metadata();
    const [a, b] = await Promise.all([
      sharp(final).raw().toBuffer(),
      sharp(original).resize(width, height).removeAlpha().raw().toBuffer(),
    ]);
    return a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i]!)), 0);
  }
});

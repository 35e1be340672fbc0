import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FIRST_FINISH } from '../../core/finish/index.js';
import type { GestureId } from '../../core/ids.js';
import { openKeptFinishes } from '../../host/finish/looks/index.js';
import { createDesk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import type { ProofMark } from './addMark.js';
import type { CropsView, FinishView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';
let folder: string;
let day: FakeDay;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-finishes-'));
  day = createFakeDay({ frames: 300, riders: 8 });
});
afterEach(async () => {
  await day.close();
  await rm(folder, { recursive: true, force: true });
});

const file = () => join(folder, 'finishes.json');
function setUp(more: Partial<Parameters<typeof createDesk>[1]> = { finishes: openKeptFinishes(file()) }) {
  const { app } = createDesk(day, { token: TOKEN, webFolder: '/nowhere', ...more });
  return async (path: string, body?: unknown): Promise<readonly [number, unknown]> => {
    const answer = await app.request(`http://${HOST}${path}`, {
      headers: { host: HOST, authorization: `Bearer ${TOKEN}`, 'content-type': 'application/json' },
      ...(body === undefined ? {} : { method: 'POST', body: JSON.stringify(body) }),
    });
    return [answer.status, await answer.json()];
  };
}

describe('finishes kept at the desk', () => {
  it('LK20: one is kept and listed; what is no finish is refused', async () => {
    const ask = setUp();
    expect(await ask('/api/finish/kept')).toEqual([200, { finishes: [] }]);
    expect(await ask('/api/finish/kept', { finish: FIRST_FINISH })).toEqual([200, { finishes: [FIRST_FINISH] }]);
    const [status, problem] = await ask('/api/finish/kept', { finish: { ...FIRST_FINISH, warmth: 4 } });
    expect([status, problem]).toEqual([400, { problem: 'Nothing was kept. finish.warmth: expected 1 or less.' }]);
    expect(await ask('/api/finish/kept')).toEqual([200, { finishes: [FIRST_FINISH] }]);
  });

  it('LK20: a damaged file is told of, left as it is, and stops nothing else', async () => {
    await writeFile(file(), '{"v": 1');
    const ask = setUp();
    for (const body of [undefined, { finish: FIRST_FINISH }]) {
      const [status, problem] = await ask('/api/finish/kept', body);
      expect(status).toBe(409);
      expect(problem).toMatchObject({ problem: expect.stringMatching(/not JSON.*left as it is/) });
    }
    expect(await readFile(file(), 'utf8')).toBe('{"v": 1');
    expect((await ask('/api/finish'))[0]).toBe(200);
    expect((await setUp({})('/api/finish/kept'))[0]).toBe(404);
  });
});

describe('pictures at the desk', () => {
  const asking = (of: FakeDay) => {
    const { app } = createDesk(of, { token: TOKEN, webFolder: '/nowhere' });
    return (path: string) =>
      app.request(`http://${HOST}${path}`, { headers: { host: HOST, authorization: `Bearer ${TOKEN}` } });
  };
  const tried = (frame: string, more: string) =>
    `/pictures/tried/${frame}?finish=${encodeURIComponent(JSON.stringify(FIRST_FINISH))}${more}`;
  const widthOf = async (answer: Response) => (await sharp(Buffer.from(await answer.arrayBuffer())).metadata()).width;

  it('LK24: as large as a pane at two pixels to one, out of the whole picture; small while a mark is moved', async () => {
    const ask = asking(day);
    const { frameId } = (await (await ask('/api/finish/crops')).json()) as CropsView;
    const wide = async (more: string) => widthOf(await ask(tried(frameId, more)));
    expect(await wide('')).toBe(640);
    expect(await wide('&edge=1200')).toBe(1200);
    // The made-up day draws no picture larger than this, and nothing is ever enlarged.
    expect(await wide('&edge=2400')).toBe(1600);
    for (const edge of ['639', '9000', 'wide', '800.5'])
      expect((await ask(tried(frameId, `&edge=${edge}`))).status).toBe(400);
  });

  it('LK24: without the original the small picture has to do', async () => {
    const away: FakeDay = { ...day, crop: async () => ({ kind: 'no-crop', sentence: 'Its disk is not here.' }) };
    const ask = asking(away);
    const { frameId } = (await (await ask('/api/finish/crops')).json()) as CropsView;
    expect(await widthOf(await ask(tried(frameId, '&edge=2000')))).toBe(640);
  });

  it('FI20: of the frames kept apart one is shown, tried by their finish, and none counts as a rider’s keeper', async () => {
    const none = setUp();
    const before = (await none('/api/finish'))[1] as FinishView;
    expect(before.apart).toEqual({ frames: 0, said: null, example: null });
    await day.close();
    day = createFakeDay({ frames: 300, riders: 8, apartFrames: 3 });
    const files = day.state().arrangement.exposures.filter(({ apart }) => apart !== undefined);
    await day.decide('019961f0-0000-7000-8000-0000000000ab' as GestureId, [
      ...files.map(({ mainFile }) => ({ kind: 'apart', file: mainFile, is: 'podium' }) as const),
      { kind: 'finish', of: 'apart', finish: { ...FIRST_FINISH, name: 'podium' } },
    ]);
    const ask = asking(day);
    const view = (await (await ask('/api/finish')).json()) as FinishView;
    expect(view.apart).toMatchObject({ frames: 3, said: { name: 'podium' } });
    const example = view.apart.example!.frameId;
    expect(files.map(({ frameId }) => frameId)).toContain(example);
    expect(view.keepers).toBe(view.spots.reduce((sum, { frames }) => sum + frames, 0));
    expect((await ask(`/api/finish/crops?frame=${example}`)).status).toBe(404);
    expect((await ask(tried(example, ''))).status).toBe(200);
  });
});

describe('the mark of proofs at the desk', () => {
  const marks = () => {
    let png: Uint8Array | null = null;
    const mark: ProofMark = {
      picture: async () => png,
      keep: async (name, bytes) => {
        if (bytes.length < 3) throw new Error(`Expected a PNG or SVG in ${name}, but it is torn. Nothing was changed.`);
        png = bytes;
      },
      letGo: async () => {
        png = null;
      },
    };
    return mark;
  };
  const setUpMark = (mark?: ProofMark) => {
    const { app } = createDesk(day, { token: TOKEN, webFolder: '/nowhere', ...(mark ? { mark } : {}) });
    return async (path: string, method = 'GET', body?: Uint8Array<ArrayBuffer>, name = 'my rings.png') =>
      app.request(`http://${HOST}${path}`, {
        method,
        headers: { host: HOST, authorization: `Bearer ${TOKEN}`, 'x-file-name': encodeURIComponent(name) },
        ...(body ? { body } : {}),
      });
  };

  it('FI15: a picture is laid and looked at, words come back, and what is refused changes nothing', async () => {
    const ask = setUpMark(marks());
    const words = { isPicture: false, words: null, trouble: null };
    expect(await (await ask('/api/finish/mark')).json()).toEqual(words);
    expect((await ask('/pictures/mark')).status).toBe(404);
    const torn = await ask('/api/finish/mark', 'POST', Uint8Array.of(1));
    expect([torn.status, await torn.json()]).toEqual([
      409,
      { problem: 'Expected a PNG or SVG in my rings.png, but it is torn. Nothing was changed.' },
    ]);
    const kept = await ask('/api/finish/mark', 'POST', Uint8Array.of(1, 2, 3, 4));
    expect(await kept.json()).toEqual({ ...words, isPicture: true });
    expect([...new Uint8Array(await (await ask('/pictures/mark')).arrayBuffer())]).toEqual([1, 2, 3, 4]);
    const large = await ask('/api/finish/mark', 'POST', new Uint8Array(20_000_001));
    expect([large.status, await large.json()]).toMatchObject([
      400,
      { problem: expect.stringMatching(/at most 20 MB/) },
    ]);
    expect(await (await ask('/api/finish/mark/words', 'POST')).json()).toEqual(words);
  });

  it('FI15: a mark that is gone is told in its own words; a desk without marks says so', async () => {
    const gone = { ...marks(), picture: () => Promise.reject(new Error('Expected this meeting’s own mark.')) };
    const view = await (await setUpMark(gone)('/api/finish/mark')).json();
    expect(view).toEqual({ isPicture: false, words: null, trouble: 'Expected this meeting’s own mark.' });
    expect((await setUpMark()('/api/finish/mark')).status).toBe(404);
  });
});

describe('crops at the desk', () => {
  it('LK13, LK15: keepers come one after the other, and those left whole can be gone to', async () => {
    const ask = setUp();
    await day.decide('019961f0-0000-7000-8000-0000000000aa' as GestureId, [
      { kind: 'finish', of: 'track', finish: { ...FIRST_FINISH, ratios: ['4:5'] } },
    ]);
    const seen: CropsView[] = [];
    for (let next: string | null = ''; next !== null; next = seen.at(-1)!.next)
      seen.push((await ask(`/api/finish/crops${next && `?frame=${next}`}`))[1] as CropsView);
    expect(seen.length).toBeGreaterThan(5);
    expect(seen.map(({ at }) => at)).toEqual(seen.map((_, index) => index + 1));
    expect(seen.map(({ before }) => before)).toEqual([null, ...seen.slice(0, -1).map(({ frameId }) => frameId)]);
    const whole = seen.filter(({ crops }) => crops[0]?.crop.kind === 'kept-whole').map(({ frameId }) => frameId);
    expect(whole.length).toBeGreaterThan(1);
    for (const view of seen) expect(view.whole).toBe(whole.length);
    expect(seen[0]!.nextWhole).toBe(whole.find((frame) => frame !== seen[0]!.frameId));
    expect(seen.at(-1)!.nextWhole).toBe(whole[0]);
    for (const { crops, subjects } of seen)
      if (crops[0]?.crop.kind === 'crop') expect(subjects.length).toBeGreaterThan(0);
  });

  it('a frame that is no keeper is told of', async () => {
    const [status, problem] = await setUp()('/api/finish/crops?frame=nowhere');
    expect(status).toBe(404);
    expect(problem).toMatchObject({ problem: expect.stringContaining('Expected a frame that is kept') });
  });
});

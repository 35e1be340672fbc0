import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FIRST_FINISH } from '../../core/finish/index.js';
import type { GestureId } from '../../core/ids.js';
import { openKeptFinishes } from '../../host/finish/looks/index.js';
import { createDesk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import type { CropsView } from './types.js';

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

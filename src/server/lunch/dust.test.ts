/** From frames on a disk to the desk: a spot that was put on a sensor is found by the child and served with its evidence. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { FrameId } from '../../core/ids.js';
import { seededRandom } from '../../core/numeric/random.js';
import { createDesk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import type { KitView } from './types.js';

const HOST = '127.0.0.1:4317';
const TOKEN = 'blue-kerb-seven';
const WIDTH = 2400;
const HEIGHT = 1600;
const SPOT = { x: 0.3, y: 0.4, reachPx: 5, darker: 0.12 };
const BODY = 'Halden|H2|000412';

let folder: string;
let day: FakeDay;
const files = new Map<FrameId, string>();

/** A sky of its own each time, and on all of them the same spot with its soft rim. */
async function sky(path: string, seed: number): Promise<void> {
  const random = seededRandom(seed);
  const data = Buffer.alloc(WIDTH * HEIGHT);
  const [slope, cloudX, cloudY] = [random.between(-40, 40), random.between(0, WIDTH), random.between(0, HEIGHT)];
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const cloud = 18 * Math.exp(-((x - cloudX) ** 2 + (y - cloudY) ** 2) / 200_000);
      const light = 165 + (slope * y) / HEIGHT + cloud + 2 * random.normal();
      const away = Math.hypot(x - SPOT.x * WIDTH, y - SPOT.y * HEIGHT) / SPOT.reachPx;
      data[y * WIDTH + x] = Math.round(light * (1 - SPOT.darker * Math.exp(-(away ** 2))));
    }
  await sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } })
    .jpeg({ quality: 92 })
    .toFile(path);
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-dust-'));
  day = createFakeDay({ frames: 300, riders: 40 });
  const dividers = day.state().arrangement.exposures.filter(({ role, body }) => role === 'divider' && body === BODY);
  for (const [i, { frameId }] of dividers.entries()) {
    files.set(frameId, join(folder, `${i}.jpg`));
    await sky(join(folder, `${i}.jpg`), i + 1);
  }
});
afterAll(async () => {
  await day.close();
  await rm(folder, { recursive: true, force: true });
});

it('PL808, PL809, PL1235: a spot on one body is told with its place and the frames that show it, each to be looked at', async () => {
  expect(files.size).toBeGreaterThanOrEqual(8);
  const original = (frame: FrameId) => files.get(frame) ?? null;
  const desk = createDesk({ ...day, original }, { token: TOKEN, webFolder: '/nowhere' });
  const ask = (path: string) =>
    desk.app.request(`http://${HOST}${path}`, { headers: { host: HOST, authorization: `Bearer ${TOKEN}` } });
  const dustOf = async (body: string) =>
    ((await (await ask('/api/kit')).json()) as KitView).dust.find((one) => one.body === body)?.found;
  try {
    expect((await dustOf('Halden H2 000412'))?.kind).toBe('looking');
    await expect.poll(async () => (await dustOf('Halden H2 000412'))?.kind, { timeout: 50_000 }).toBe('looked');
    const found = await dustOf('Halden H2 000412');
    if (found?.kind !== 'looked') throw new Error('Expected a look to have ended.');
    expect(found.spots).toHaveLength(1);
    const { x, y, frames, acrossPx } = found.spots[0]!;
    expect(Math.abs(x - SPOT.x) * WIDTH).toBeLessThan(4);
    expect(Math.abs(y - SPOT.y) * HEIGHT).toBeLessThan(4);
    expect(frames.length).toBeGreaterThanOrEqual(5);
    for (const frame of frames) expect(files.has(frame)).toBe(true);
    const piece = await ask(`/pictures/${frames[0]}/spot?x=${x}&y=${y}&across=${acrossPx}`);
    expect([piece.status, piece.headers.get('content-type')]).toEqual([200, 'image/jpeg']);
    // The other body has too few scenes, and that is no clean sensor.
    expect((await dustOf('Halden H2 001245'))?.kind).toBe('cannot-tell');
  } finally {
    await desk.close();
  }
}, 120_000);

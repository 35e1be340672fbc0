import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { FrameId } from '../../core/ids.js';
import { look } from './look.js';

const WIDTH = 600;
const HEIGHT = 400;

describe('a look at the frames of the kit', () => {
  let folder: string;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-look-'));
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));

  /** A grey sky, 8 % darker within 3 px of a place. */
  async function skyWithSpot(name: string, at: { readonly x: number; readonly y: number }): Promise<string> {
    const data = Buffer.alloc(WIDTH * HEIGHT, 150);
    for (let y = 0; y < HEIGHT; y++)
      for (let x = 0; x < WIDTH; x++) if (Math.hypot(x - at.x, y - at.y) < 3) data[y * WIDTH + x] = 138;
    const path = join(folder, name);
    await sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } })
      .jpeg({ quality: 95 })
      .toFile(path);
    return path;
  }

  async function shown(path: string, at: { readonly x: number; readonly y: number }) {
    const spot = { path, x: (at.x + 0.5) / WIDTH, y: (at.y + 0.5) / HEIGHT, acrossPx: 60 };
    const answer = await look({ kind: 'spot', spot });
    if (answer.kind !== 'picture') throw new Error(`Expected a picture but got ${JSON.stringify(answer)}`);
    const { data, info } = await sharp(Buffer.from(answer.jpeg, 'base64'))
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true });
    return { info, lightAt: (x: number, y: number) => data[y * info.width + x]! };
  }

  for (const at of [
    { x: 200, y: 120 },
    { x: 2, y: 397 },
  ])
    it(`PL809: the piece of a frame has the spot in its middle, plainly darker than around it: ${at.x}, ${at.y}`, async () => {
      const { info, lightAt } = await shown(await skyWithSpot('sky.jpg', at), at);
      expect([info.width, info.height]).toEqual([320, 320]);
      const middle = lightAt(160, 160);
      // Towards the middle of the frame, so that it is sky at an edge, too.
      const beside = lightAt(at.x < WIDTH / 2 ? 290 : 30, at.y < HEIGHT / 2 ? 290 : 30);
      expect(beside - middle).toBeGreaterThan(60);
    });

  it('PL809: a frame turned by its own word is shown as recorded', async () => {
    const at = { x: 150, y: 300 };
    const plain = await skyWithSpot('plain.jpg', at);
    const turned = join(folder, 'turned.jpg');
    await sharp(plain).withMetadata({ orientation: 6 }).jpeg({ quality: 95 }).toFile(turned);
    const { lightAt } = await shown(turned, at);
    expect(lightAt(30, 30) - lightAt(160, 160)).toBeGreaterThan(60);
  });

  it('PL809: a damaged frame is told of, and nothing found where frames cannot be read', async () => {
    const spot = { path: join(folder, 'missing.jpg'), x: 0.5, y: 0.5, acrossPx: 20 };
    expect((await look({ kind: 'spot', spot })).kind).toBe('failed');
    const files = [{ frameId: 'a'.repeat(32) as FrameId, path: spot.path }];
    expect(await look({ kind: 'dust', files })).toMatchObject({ kind: 'dust', found: { kind: 'cannot-tell' } });
  });
});

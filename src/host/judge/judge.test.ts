import { mkdir, mkdtemp, readdir, rm, truncate, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { FileId, FrameId } from '../../core/ids.js';
import type { Box, FileMetadata } from '../../core/measure/types.js';
import { seededRandom } from '../../core/numeric/random.js';
import { openVision, type Vision } from '../vision/index.js';
import { boundCrops } from './boundCrops.js';
import { cropOf, cropPath, isWholeCrop, keepCrop, rectOfName } from './crops.js';
import { judgeFile } from './index.js';

const [WIDTH, HEIGHT] = [640, 480];
let folder: string;
let vision: Vision;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-judge-'));
  vision = await openVision();
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const metadata: FileMetadata = {
  v: 1,
  fileId: '0'.repeat(32) as FileId,
  frameId: '1'.repeat(32) as FrameId,
  media: 'jpeg',
  bytes: 1,
  captured: { kind: 'absent', reason: 'no-capture-time' },
  body: {},
  lens: {},
  exposure: {},
  widthPx: WIDTH,
  heightPx: HEIGHT,
  notes: [],
};
const BOX: Box = [0.25, 0.25, 0.5, 0.5];

/** Blocks of grey, and a red corner at the upper left. */
async function drawFile(name: string, orientation = 1): Promise<string> {
  const random = seededRandom(3);
  const cells = Array.from({ length: 64 * 48 }, () => random.integer(20, 200));
  const data = Buffer.alloc(3 * WIDTH * HEIGHT);
  for (let at = 0; at < WIDTH * HEIGHT; at += 1) {
    const [x, y] = [at % WIDTH, Math.floor(at / WIDTH)];
    const isCorner = x < WIDTH / 2 && y < HEIGHT / 2;
    const value = cells[Math.floor(y / 10) * 64 + Math.floor(x / 10)]!;
    data.set(isCorner ? [220, 20, 20] : [value, value, value], 3 * at);
  }
  const path = join(folder, name);
  await sharp(data, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } })
    .jpeg({ quality: 97, chromaSubsampling: '4:4:4' })
    .withMetadata({ orientation })
    .toFile(path);
  return path;
}

it('JU1: judges at full resolution, and the same from the cache when the original is gone', async () => {
  const path = await drawFile('one.jpg');
  const cache = join(folder, 'cache');
  const judge = () =>
    judgeFile(vision, cache, {
      path,
      metadata,
      subject: { box: BOX, what: 'motorcycle' },
      others: [],
      burst: [],
      heads: null,
    });
  const first = await judge();
  await rm(path);
  expect(await judge()).toEqual(first);
  const { picture, at } = await cropOf(cache, path, metadata, BOX);
  // A half of the picture and 15 % of that on either side.
  expect([picture.width, picture.height]).toEqual([416, 312]);
  expect(at[2]).toBeCloseTo(0.65, 6);
});

it('JU10: a torn crop in the cache is cut out anew', async () => {
  const path = await drawFile('two.jpg');
  const cache = join(folder, 'torn');
  const first = await cropOf(cache, path, metadata, BOX);
  const kept = join(cache, metadata.frameId);
  const [name] = await readdir(kept);
  await truncate(join(kept, name!), 2000);
  expect(await cropOf(cache, path, metadata, BOX)).toEqual(first);
});

it('JU10: a crop of a picture that lies on its side is upright', async () => {
  const path = await drawFile('three.jpg', 6);
  const upright = { ...metadata, orientation: 6, widthPx: HEIGHT, heightPx: WIDTH } as const;
  const { picture } = await cropOf(join(folder, 'turned'), path, upright, [0.7, 0.1, 0.2, 0.2]);
  // Turned clockwise, the upper left comes to lie at the upper right.
  const middle = 3 * (Math.floor(picture.height / 2) * picture.width + Math.floor(picture.width / 2));
  expect([...picture.data.subarray(middle, middle + 3)].map((value) => value > 128)).toEqual([true, false, false]);
});

it('JU10: what is no JPEG is refused in a sentence', async () => {
  await expect(cropOf(folder, 'DSC_0001.DNG', { ...metadata, media: 'raw' }, BOX)).rejects.toThrow(
    /Expected a JPEG of known size .* DSC_0001\.DNG is of kind raw\. Its measurement stands; judge the JPEG beside it\./,
  );
});

it('JU16: a part is cut out of a larger crop that is kept, though the original is gone', async () => {
  const path = await drawFile('four.jpg');
  const cache = join(folder, 'parts');
  const { picture } = await cropOf(cache, path, metadata, BOX);
  await rm(path);
  const rect = { left: 200, top: 150, right: 260, bottom: 210 };
  const kept = await keepCrop(cache, { path, metadata, rect });
  const { data, info } = await sharp(kept).raw().toBuffer({ resolveWithObject: true });
  expect([info.width, info.height]).toEqual([60, 60]);
  // The larger one begins 15 % of the bike's size before the bike.
  const at = 3 * ((150 - 84) * picture.width + (200 - 112));
  expect(Math.abs(data[0]! - picture.data[at]!)).toBeLessThan(12);
  const outside = { left: 0, top: 0, right: 700, bottom: 10 };
  await expect(keepCrop(cache, { path, metadata, rect: outside })).rejects.toThrow(
    /Expected a part of a picture of 640 × 480 pixels but was asked for 0-0-700-10/,
  );
});

it('JU16: names of crops are rectangles and nothing else; a torn one is told from a whole one', async () => {
  expect(rectOfName('1-2-30-40')).toEqual({ left: 1, top: 2, right: 30, bottom: 40 });
  for (const name of ['', '1-2-3', '3-2-1-4', '1-5-3-4', '../1-2-3-4', '1-2-3-4.jpg', '1-2-3-1234567'])
    expect(rectOfName(name)).toBeNull();
  const cache = join(folder, 'whole');
  await cropOf(cache, await drawFile('five.jpg'), metadata, BOX);
  const kept = cropPath(cache, metadata.frameId, { left: 112, top: 84, right: 528, bottom: 396 });
  expect(await isWholeCrop(kept)).toBe(true);
  await truncate(kept, 2000);
  expect(await isWholeCrop(kept)).toBe(false);
  expect(await isWholeCrop(`${kept}.none`)).toBe(false);
});

it('JU15: too many crops are thrown away by frame, those nobody chose first, those used longest ago before the others', async () => {
  const cache = join(folder, 'bounded');
  const frames = ['a', 'b', 'c', 'd', 'e'];
  for (const [age, frame] of frames.entries()) {
    await mkdir(join(cache, frame), { recursive: true });
    const kept = join(cache, frame, '0-0-1-1.jpg');
    await writeFile(kept, Buffer.alloc(100));
    await utimes(kept, 1000 + age, 1000 + age);
  }
  const isChosen = (frame: string): boolean => frame === 'a';
  expect(await boundCrops(cache, isChosen, 500)).toEqual([]);
  expect(await boundCrops(cache, isChosen, 300)).toEqual(['b', 'c', 'd']);
  expect((await readdir(cache)).sort()).toEqual(['a', 'e']);
  expect(await boundCrops(join(folder, 'never made'), isChosen, 1)).toEqual([]);
});

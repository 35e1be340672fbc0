import sharp from 'sharp';
import { expect, test } from 'vitest';
import { FIRST_FINISH, type Look, lookOf, PLAIN_LOOK } from '../../../core/finish/finishes/index.js';
import { applyLook } from './applyLook.js';

const SIZE = { widthPx: 300, heightPx: 200 };

/** A picture with edges, slopes and some grain. */
function picture(width = SIZE.widthPx, height = SIZE.heightPx): Promise<Buffer> {
  const pixels = Buffer.alloc(width * height * 3);
  for (let at = 0; at < pixels.length; at += 1) {
    const [x, y] = [Math.floor(at / 3) % width, Math.floor(at / 3 / width)];
    pixels[at] = (((x >> 4) + (y >> 4)) % 2 === 0 ? 60 : 170) + ((at * 7919) % 13) + (at % 3) * 12;
  }
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 95 })
    .toBuffer();
}

const finished = async (bytes: Buffer, look: Look, longEdgePx: number | null, size = SIZE) => {
  const { picture: out, size: said } = await applyLook(sharp(bytes, { autoOrient: true }), size, look, longEdgePx);
  const jpeg = await out.withIccProfile('srgb').jpeg({ quality: 90 }).toBuffer({ resolveWithObject: true });
  return { ...jpeg, said };
};

const EVERYTHING: Look = {
  ...lookOf({ ...FIRST_FINISH, grain: 0.5 }, { gains: [1.2, 1, 0.9] }),
  turnDeg: 1.3,
  crop: [0.1, 0.05, 0.6, 0.8],
};

test('LK4: equal input gives equal bytes', async () => {
  const bytes = await picture();
  const [one, other] = [await finished(bytes, EVERYTHING, 160), await finished(bytes, EVERYTHING, 160)];
  expect(one.data.equals(other.data)).toBe(true);
  expect(one.data.equals((await finished(bytes, { ...EVERYTHING, grain: 0 }, 160)).data)).toBe(false);
});

test('LK5: nothing is enlarged, and the size is the one that was said', async () => {
  const bytes = await picture();
  for (const edge of [120, 299, 5000, null])
    for (const look of [PLAIN_LOOK, EVERYTHING, { ...PLAIN_LOOK, crop: [0.2, 0.2, 0.5, 0.5] } satisfies Look]) {
      const { info, said } = await finished(bytes, look, edge);
      expect({ widthPx: info.width, heightPx: info.height }).toEqual(said);
      expect(Math.max(info.width, info.height)).toBeLessThanOrEqual(edge ?? 300);
      expect(info.width).toBeLessThanOrEqual(Math.ceil(300 * (look.crop?.[2] ?? 1)));
    }
});

test('LK6: a levelled picture shows nothing from outside it', async () => {
  const white = await sharp({ create: { width: 300, height: 200, channels: 3, background: '#f4f4f4' } })
    .png()
    .toBuffer();
  for (const turnDeg of [-2.5, -0.4, 0.7, 3]) {
    const { picture: out } = await applyLook(sharp(white), SIZE, { ...PLAIN_LOOK, turnDeg }, null);
    const data = await sharp(await out.png().toBuffer())
      .raw()
      .toBuffer();
    expect(data.every((byte) => byte > 200)).toBe(true);
  }
});

test('a turn puts what leaned upright: a plumb line drawn two degrees off stands after it', async () => {
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" width="300" height="200"><rect width="300" height="200" fill="#fff"/><path d="M153.49 0 L146.51 200" stroke="#000" stroke-width="4"/></svg>';
  const { picture: out, size } = await applyLook(sharp(Buffer.from(svg)), SIZE, { ...PLAIN_LOOK, turnDeg: -2 }, null);
  const data = await sharp(await out.png().toBuffer())
    .greyscale()
    .raw()
    .toBuffer();
  const middleOf = (y: number): number => {
    let [sum, dark] = [0, 0];
    for (let x = 0; x < size.widthPx; x += 1) {
      const weight = 255 - data[y * size.widthPx + x]!;
      sum += weight * x;
      dark += weight;
    }
    return sum / dark;
  };
  expect(Math.abs(middleOf(10) - middleOf(size.heightPx - 10))).toBeLessThan(0.6);
});

test('a picture turned by its Exif orientation is finished upright', async () => {
  const turned = await sharp(await picture())
    .withMetadata({ orientation: 6 })
    .toBuffer();
  const { info } = await finished(turned, EVERYTHING, 100, { widthPx: 200, heightPx: 300 });
  expect(info.height).toBeGreaterThan(info.width);
});

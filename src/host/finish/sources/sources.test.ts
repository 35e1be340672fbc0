import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dcfOptionJpeg, littleCms, patches, readPatches } from '../../../../test/fixtures/finish/colourFiles.js';
import { PLAIN_LOOK, planFinal } from '../../../core/finish/index.js';
import type { FrameId } from '../../../core/ids.js';
import { labOfRgb } from '../../../core/numeric/colour.js';
import { ciede2000 } from '../../../core/numeric/colourDifference.js';
import { makePicture } from '../makePicture.js';
import { matrixProfile } from './matrixProfile.js';
import { MADE_UP_WORDS } from './testing.js';

/** Adobe RGB (1998) Color Image Encoding, 2005-05, annex A. */
const WIDE = matrixProfile({
  name: 'wide',
  gamma: 563 / 256,
  red: [0.60974, 0.31111, 0.01947],
  green: [0.20528, 0.62567, 0.06087],
  blue: [0.14919, 0.06322, 0.74457],
});
/** Within sRGB once converted, so that no clipping decides. */
const COLOURS = [
  [200, 60, 50],
  [60, 140, 70],
  [50, 70, 160],
  [128, 128, 128],
  [230, 200, 90],
] as const;

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-sources-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function finalOf(name: string, bytes: Buffer) {
  const original = join(folder, name);
  await writeFile(original, bytes);
  const to = join(folder, `${name}-final.jpg`);
  const plan = planFinal(MADE_UP_WORDS, PLAIN_LOOK, null, { kind: 'camera' });
  return { original, to, outcome: await makePicture({ frameId: '0'.repeat(32) as FrameId, original, plan, to }) };
}

const difference = (a: readonly number[], b: readonly number[]): number =>
  ciede2000(labOfRgb(a[0]!, a[1]!, a[2]!), labOfRgb(b[0]!, b[1]!, b[2]!));

/** Every patch within ΔE00 `most` of what Little CMS makes of the same file with the same profile. */
async function agreesWithLittleCms(path: string, to: string, profile: Buffer, count: number, most: number) {
  const expected = littleCms(path, profile, 0, count);
  if (expected === null) return;
  const received = await readPatches(to, count);
  expect(received).toHaveLength(count);
  for (const [index, colour] of received.entries())
    expect(difference(colour, expected[index]!), `patch ${index}: ${colour} against ${expected[index]}`).toBeLessThan(
      most,
    );
}

/** Ink profiles are tables, and the two interpolate between their places otherwise: a grey differs by 2.5. */
const CMYK_TOLERANCE = 3;
const TYPE = { quality: 100, chromaSubsampling: '4:4:4' } as const;

describe('colours of originals', () => {
  it('FI6: Adobe RGB with a profile becomes sRGB as Little CMS converts it', async () => {
    const profile = join(folder, 'wide.icc');
    await writeFile(profile, WIDE);
    // Values that are Adobe RGB already: the profile is attached, nothing converted.
    const plain = await patches(COLOURS).jpeg(TYPE).toBuffer();
    const segment = Buffer.concat([Buffer.from('ICC_PROFILE\0\x01\x01', 'latin1'), WIDE]);
    const head = Buffer.from([0xff, 0xe2, 0, 0]);
    head.writeUInt16BE(segment.length + 2, 2);
    const { original, to, outcome } = await finalOf(
      'wide.jpg',
      Buffer.concat([plain.subarray(0, 2), head, segment, plain.subarray(2)]),
    );
    expect(outcome).toMatchObject({ kind: 'made', madeFrom: 'jpeg' });
    await agreesWithLittleCms(original, to, WIDE, COLOURS.length, 1);
  });

  it('FI6: a camera’s wide colours without a profile, said by R03 alone, become the same', async () => {
    const { original, to, outcome } = await finalOf(
      '_HX70047.JPG',
      dcfOptionJpeg(await patches(COLOURS).jpeg(TYPE).toBuffer()),
    );
    expect(outcome).toMatchObject({ kind: 'made' });
    await agreesWithLittleCms(original, to, WIDE, COLOURS.length, 1);
    // Taken for sRGB the red would stay (200, 60, 50): the check would notice.
    const [red] = await readPatches(to, COLOURS.length);
    expect(difference(red!, COLOURS[0])).toBeGreaterThan(3);
  });

  it('FI6: Display P3 becomes sRGB as Little CMS converts it', async () => {
    const p3 = await patches(COLOURS).withIccProfile('p3').jpeg(TYPE).toBuffer();
    const { original, to } = await finalOf('p3.jpg', p3);
    await agreesWithLittleCms(original, to, (await sharp(p3).metadata()).icc!, COLOURS.length, 1);
  });

  it('FI6: CMYK with a profile becomes sRGB as Little CMS converts it', async () => {
    const cmyk = await patches(COLOURS).toColourspace('cmyk').withIccProfile('cmyk').jpeg(TYPE).toBuffer();
    expect((await sharp(cmyk).metadata()).space).toBe('cmyk');
    const { original, to, outcome } = await finalOf('cmyk.jpg', cmyk);
    expect(outcome).toMatchObject({ kind: 'made' });
    expect(await sharp(to).metadata()).toMatchObject({ space: 'srgb', channels: 3 });
    await agreesWithLittleCms(original, to, (await sharp(cmyk).metadata()).icc!, COLOURS.length, CMYK_TOLERANCE);
  });

  it('FI6: a TIFF of 16 bits becomes sRGB of 8, its values rounded', async () => {
    const tiff = await patches(
      COLOURS.map((colour) => colour.map((value) => value * 257)),
      16,
    )
      .toColourspace('rgb16')
      .tiff({ compression: 'none' })
      .toBuffer();
    expect((await sharp(tiff).metadata()).depth).toBe('ushort');
    const { to, outcome } = await finalOf('sixteen.tif', tiff);
    expect(outcome).toMatchObject({ kind: 'made', madeFrom: 'other-picture' });
    const received = await readPatches(to, COLOURS.length);
    for (const [index, colour] of COLOURS.entries()) expect(difference(received[index]!, colour)).toBeLessThan(1);
  });

  it('FI6: a grey JPEG becomes sRGB of three channels: its profile fits it', async () => {
    const grey = await patches(COLOURS).toColourspace('b-w').jpeg(TYPE).toBuffer();
    expect((await sharp(grey).metadata()).channels).toBe(1);
    const { to } = await finalOf('grey.jpg', grey);
    expect(await sharp(to).metadata()).toMatchObject({ space: 'srgb', channels: 3, hasProfile: true });
  });
});

describe('pictures that are none', () => {
  it.each([
    [3, 1],
    [1, 3],
    [63, 900],
  ])('FI8: of %i × %i pixels are refused in a sentence', async (width, height) => {
    const tiny = await sharp({ create: { width, height, channels: 3, background: '#777' } })
      .jpeg()
      .toBuffer();
    const { to, outcome } = await finalOf(`tiny-${width}.jpg`, tiny);
    expect(outcome).toMatchObject({
      kind: 'failed',
      sentence: expect.stringMatching(
        /^Expected a whole picture in \/.*\/tiny-\d+\.jpg, \d+ bytes, .*at least 64 a side make a picture.*no final was made of it\.$/,
      ),
    });
    expect((await readdir(folder)).filter((name) => name.startsWith('.'))).toEqual([]);
    await expect(sharp(to).metadata()).rejects.toThrow();
  });

  it('FI8: cut short, at whatever place, are refused in a sentence and leave nothing behind', async () => {
    const whole = await patches(COLOURS).resize(900, 600).jpeg().toBuffer();
    for (const share of [0, 0.01, 0.3, 0.6, 0.95]) {
      const name = `short-${share * 100}.jpg`;
      const { outcome } = await finalOf(name, whole.subarray(0, Math.floor(whole.length * share)));
      expect(outcome, name).toMatchObject({
        kind: 'failed',
        sentence: expect.stringMatching(new RegExp(`^Expected a whole picture in /.*/${name}, `)),
      });
    }
    expect((await readdir(folder)).filter((name) => /^short.*final/.test(name) || name.startsWith('.'))).toEqual([]);
  });

  it.each([2, 3, 4, 5, 6, 7, 8])(
    'FI7: written on their side or mirrored (orientation %i) come out upright',
    async (orientation) => {
      // Four different corners, put the wrong way by the inverse of what the tag says.
      const upright = await sharp({ create: { width: 120, height: 80, channels: 3, background: '#808080' } })
        .composite([
          { input: { create: { width: 40, height: 40, channels: 3, background: '#d02020' } }, left: 0, top: 0 },
          { input: { create: { width: 40, height: 40, channels: 3, background: '#2020d0' } }, left: 80, top: 0 },
          { input: { create: { width: 40, height: 40, channels: 3, background: '#20a020' } }, left: 0, top: 40 },
        ])
        .png()
        .toBuffer();
      // Of 6 the inverse is 8 and the other way round; all others are their own.
      const inverse = orientation === 6 ? 8 : orientation === 8 ? 6 : orientation;
      const tagged = await sharp(upright).withMetadata({ orientation: inverse }).png().toBuffer();
      const turned = await sharp(tagged).autoOrient().png().toBuffer();
      const { to } = await finalOf(
        `turned-${orientation}.jpg`,
        await sharp(turned).withMetadata({ orientation }).jpeg(TYPE).toBuffer(),
      );
      const found = await sharp(to).raw().toBuffer({ resolveWithObject: true });
      expect([found.info.width, found.info.height]).toEqual([120, 80]);
      const at = (x: number, y: number) => [...found.data.subarray((y * 120 + x) * 3, (y * 120 + x) * 3 + 3)];
      for (const [colour, x, y] of [
        [[208, 32, 32], 20, 20],
        [[32, 32, 208], 100, 20],
        [[32, 160, 32], 20, 60],
        [[128, 128, 128], 100, 60],
      ] as const)
        expect(difference(at(x, y), colour), `${x},${y}`).toBeLessThan(2);
      expect((await sharp(to).metadata()).orientation ?? 1).toBe(1);
    },
  );
});

import sharp from 'sharp';
import { expect, test } from 'vitest';
import { FIRST_FINISH, type Look, lookOf, PLAIN_LOOK } from '../../../core/finish/finishes/index.js';
import { LINEAR_OF_BYTE, labOfRgb } from '../../../core/numeric/colour.js';
import { ciede2000 } from '../../../core/numeric/colourDifference.js';
import { applyLook } from './applyLook.js';

/**
 * The chart of 24 surfaces of "A Color-Rendition Chart" (Journal of Applied Photographic Engineering 2(3), 95–99, 1976), as the 8-bit
 * sRGB values its maker publishes; row by row, skin first, greys last. Read in two public lists that agree; June 2006 edition.
 */
const CHART = [
  [115, 82, 68],
  [194, 150, 130],
  [98, 122, 157],
  [87, 108, 67],
  [133, 128, 177],
  [103, 189, 170],
  [214, 126, 44],
  [80, 91, 166],
  [193, 90, 99],
  [94, 60, 108],
  [157, 188, 64],
  [224, 163, 46],
  [56, 61, 150],
  [70, 148, 73],
  [175, 54, 60],
  [231, 199, 31],
  [187, 86, 149],
  [8, 133, 161],
  [243, 243, 242],
  [200, 200, 200],
  [160, 160, 160],
  [122, 122, 121],
  [85, 85, 85],
  [52, 52, 52],
] as const;
type Bytes = readonly [number, number, number];

const [COLUMNS, ROWS, PATCH] = [6, 4, 24] as const;
const SIZE = { widthPx: COLUMNS * PATCH, heightPx: ROWS * PATCH };

function chartOf(colours: readonly Bytes[]): Promise<Buffer> {
  const pixels = Buffer.alloc(SIZE.widthPx * SIZE.heightPx * 3);
  for (let y = 0, at = 0; y < SIZE.heightPx; y += 1)
    for (let x = 0; x < SIZE.widthPx; x += 1, at += 3)
      pixels.set(colours[Math.floor(y / PATCH) * COLUMNS + Math.floor(x / PATCH)]!, at);
  return sharp(pixels, { raw: { width: SIZE.widthPx, height: SIZE.heightPx, channels: 3 } })
    .png()
    .toBuffer();
}

/** Middles of the finished patches; as a JPEG of a proof's quality where one is asked for. */
async function patchesOf(picture: Buffer, look: Look, quality?: number): Promise<readonly Bytes[]> {
  const { picture: finished } = await applyLook(sharp(picture, { autoOrient: true }), SIZE, look, null);
  const bytes = quality === undefined ? finished.png() : finished.withIccProfile('srgb').jpeg({ quality });
  const { data } = await sharp(await bytes.toBuffer())
    .raw()
    .toBuffer({ resolveWithObject: true });
  return CHART.map((_, index) => {
    const x = ((index % COLUMNS) + 0.5) * PATCH;
    const y = (Math.floor(index / COLUMNS) + 0.5) * PATCH;
    const at = (y * SIZE.widthPx + x) * 3;
    return [data[at]!, data[at + 1]!, data[at + 2]!];
  });
}

const differences = (one: readonly Bytes[], other: readonly Bytes[]): readonly number[] =>
  one.map((colour, index) => ciede2000(labOfRgb(...colour), labOfRgb(...other[index]!)));

test('LK1: a published chart comes through the neutral finish as it is; a JPEG of it is off by 0.5 ΔE00 at most on average', async () => {
  const chart = await chartOf(CHART);
  expect(await patchesOf(chart, PLAIN_LOOK)).toEqual(CHART);
  const asJpeg = differences(await patchesOf(chart, PLAIN_LOOK, 90), CHART);
  expect(asJpeg).toHaveLength(24);
  // Whole numbers of luma and chroma alone put single patches off by up to 0.7.
  expect(asJpeg.reduce((sum, one) => sum + one, 0) / asJpeg.length).toBeLessThanOrEqual(0.5);
});

test('LK1: the table of tones and hues, made so that it changes nothing, changes nothing', async () => {
  // A strength off 1 by less than can be seen makes the table be used.
  const look: Look = { ...PLAIN_LOOK, tones: { ...PLAIN_LOOK.tones, shade: 1e-9 } };
  expect(Math.max(...differences(await patchesOf(await chartOf(CHART), look), CHART))).toBeLessThanOrEqual(0.2);
});

/** Light on a sensor to light shown: the fit of a film's response in "ACES filmic tone mapping curve" (2016), another's curve than ours. */
const filmed = (x: number): number => Math.min(1, (x * (2.51 * x + 0.03)) / (x * (2.43 * x + 0.59) + 0.14));

/** The chart as a camera with that film shows it, its surfaces under this light. */
const takenUnder = (light: readonly [number, number, number]): readonly Bytes[] =>
  CHART.map((colour) => {
    const shown = colour.map((byte, channel) => byteOf(filmed(0.6 * LINEAR_OF_BYTE[byte]! * light[channel]!)));
    return shown as unknown as Bytes;
  });

const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;

test.each([
  ['half a stop too dark and blue', [0.62, 0.7, 0.8]],
  ['a stop too bright', [2, 2, 2]],
  ['warm', [1.18, 1, 0.82]],
] as const)('LK2: a chart taken %s on another film comes back, nearer than by scaling its values', async (_, light) => {
  const meant = takenUnder([1, 1, 1]);
  const taken = takenUnder(light);
  const gains = light.map((one) => 1 / one) as unknown as Look['gains'];
  const off = mean(differences(await patchesOf(await chartOf(taken), { ...PLAIN_LOOK, gains }), meant));
  const scaled = taken.map((colour) =>
    colour.map((byte, channel) => byteOf(Math.min(1, LINEAR_OF_BYTE[byte]! * gains[channel]!))),
  );
  expect(off).toBeLessThan(0.35 * mean(differences(taken, meant)));
  expect(off).toBeLessThan(mean(differences(scaled as unknown as readonly Bytes[], meant)));
});

test('LK3: what was burnt to white stays white under any white balance', async () => {
  const white = CHART.map((): Bytes => [255, 255, 255]);
  const black = CHART.map((): Bytes => [0, 0, 0]);
  for (const gains of [
    [1.4, 1, 0.7],
    [0.6, 0.6, 0.6],
    [2, 2, 2],
  ] as const) {
    const look: Look = { ...lookOf(FIRST_FINISH), sharpness: 0, gains };
    expect((await patchesOf(await chartOf(white), look))[0]).toEqual([255, 255, 255]);
    expect((await patchesOf(await chartOf(black), look))[0]).toEqual([0, 0, 0]);
  }
});

/** The curve as the standard writes it. */
const byteOf = (linear: number): number =>
  Math.round(255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055));

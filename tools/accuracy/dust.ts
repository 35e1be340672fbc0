/**
 * Dust that was put in and found again, and dust found where none was put.
 *
 * Spots of 6–40 px of 24 megapixels, 3–15 % darker in light, soft rim, over real sky and tarmac and over rendered frames. These are small
 * pictures: each is enlarged towards half of 24 megapixels as a frame of that scene would be, given the noise that enlarging took away,
 * and written as JPEG after. Seen are windows of them at one place of the sensor. Nothing falsely is asked of the pictures as they are, too.
 */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { keptFrames } from '../../demo/frames.js';
import type { FrameId } from '../../src/core/ids.js';
import { type DustFrame, type DustSpot, findDust } from '../../src/core/measure/dust/index.js';
import type { GreyImage } from '../../src/core/measure/images.js';
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import type { Figures } from '../figures.js';

export const SCALE = 0.5;
const WIDTH = 400;
const HEIGHT = 300;
export const SIZE = { width: WIDTH, height: HEIGHT };
const FRAMES_A_BODY = 24;
const BODIES = 10;
const SPOTS_A_BODY = 5;
const APART_PX = 56;
const EDGE_PX = 32;
const RENDERS = 200;

export interface PutSpot {
  readonly x: number;
  readonly y: number;
  readonly acrossPx: number;
  readonly darker: number;
}

const greyOf = async (file: string | Buffer): Promise<GreyImage> => {
  const { data, info } = await sharp(file)
    .flatten({ background: '#808080' })
    .greyscale()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
};

interface Scene {
  readonly plain: GreyImage;
  /** Times larger than it is. */
  readonly enlarged: GreyImage;
}

/** Per mille of the largest value: about a body's at ISO 400, halved. */
const NOISE = 0.006;

async function sceneOf(picture: GreyImage, times: number): Promise<Scene> {
  const { data, width, height } = picture;
  const larger = await sharp(data, { raw: { width, height, channels: 1 } })
    .resize(width * times, height * times, { kernel: 'cubic' })
    .greyscale()
    .raw()
    .toBuffer();
  return { plain: mirrored(picture), enlarged: { data: larger, width: width * times, height: height * times } };
}

const noisy = (random: Random, { data, width, height }: GreyImage): GreyImage => ({
  data: Uint8Array.from(data, (value) => Math.max(0, Math.min(255, Math.round(value + 255 * NOISE * random.normal())))),
  width,
  height,
});

/** As large as a body's frames here, mirrored at its edges. */
const mirrored = ({ data, width, height }: GreyImage, left = 0, top = 0): GreyImage => {
  const fold = (at: number, size: number) => {
    const within = at % (2 * size);
    return within < size ? within : 2 * size - 1 - within;
  };
  const out = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y += 1)
    for (let x = 0; x < WIDTH; x += 1)
      out[y * WIDTH + x] = data[fold(y + top, height) * width + fold(x + left, width)]!;
  return { data: out, width: WIDTH, height: HEIGHT };
};

const toLight = (value: number): number => {
  const v = value / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
};
const toValue = (light: number): number =>
  Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055));

/** Positions in pixels of the image, width in pixels of 24 megapixels; the rim is soft over a pixel. */
export function withDust({ data, width, height }: GreyImage, spots: readonly PutSpot[]): GreyImage {
  const out = Uint8Array.from(data);
  for (const { x, y, acrossPx, darker } of spots) {
    const radius = (acrossPx * SCALE) / 2;
    const reach = Math.ceil(radius + 1);
    for (let j = Math.max(0, Math.floor(y - reach)); j <= Math.min(height - 1, y + reach); j += 1)
      for (let i = Math.max(0, Math.floor(x - reach)); i <= Math.min(width - 1, x + reach); i += 1) {
        const inside = Math.max(0, Math.min(1, radius + 0.5 - Math.hypot(i - x, j - y)));
        out[j * width + i] = toValue(toLight(out[j * width + i]!) * (1 - darker * inside));
      }
  }
  return { data: out, width, height };
}

export const throughJpeg = async (image: GreyImage): Promise<GreyImage> => {
  const { width, height } = image;
  const jpeg = await sharp(image.data, { raw: { width, height, channels: 1 } })
    .jpeg({ quality: 92 })
    .toBuffer();
  return { data: await sharp(jpeg).greyscale().raw().toBuffer(), width, height };
};

export function someSpots(
  random: Random,
  size: { readonly width: number; readonly height: number },
): readonly PutSpot[] {
  const spots: PutSpot[] = [];
  while (spots.length < SPOTS_A_BODY) {
    const x = random.between(EDGE_PX, size.width - EDGE_PX);
    const y = random.between(EDGE_PX, size.height - EDGE_PX);
    if (spots.every((one) => Math.hypot(one.x - x, one.y - y) > APART_PX))
      spots.push({ x, y, acrossPx: random.between(6, 40), darker: random.between(0.03, 0.15) });
  }
  return spots;
}

export const isAt = (found: DustSpot, put: PutSpot): boolean =>
  Math.hypot(found.x * WIDTH - put.x, found.y * HEIGHT - put.y) <= 3 + (put.acrossPx * SCALE) / 2;

export const asFrames = (images: readonly GreyImage[]): readonly DustFrame[] =>
  images.map((image, at) => ({ frameId: `frame-${at}` as FrameId, image }));

const spotsIn = (images: readonly GreyImage[], scale = SCALE): readonly DustSpot[] => {
  const found = findDust({ frames: asFrames(images), scale });
  return found.kind === 'looked' ? found.spots : [];
};

/** At one place of the sensor. */
function windowsOf(random: Random, scenes: readonly Scene[]): readonly GreyImage[] {
  const [left, top] = [random.integer(0, 2000), random.integer(0, 1500)];
  return scenes.map(({ enlarged }) => noisy(random, mirrored(enlarged, left, top)));
}

/** Frames of the invented meeting, enlarged and seen through one window, body after body. */
export async function renderedWindows(): Promise<(random: Random, count: number) => readonly GreyImage[]> {
  const scenes = await enlargedRenders(await renders());
  return (random, count) => windowsOf(random, random.shuffled(scenes).slice(0, count));
}

const enlargedRenders = (images: readonly GreyImage[]): Promise<readonly Scene[]> =>
  Promise.all(everyFifth(images).map((one) => sceneOf(one, 5)));

interface Tally {
  put: number;
  found: number;
  elsewhere: number;
  clean: number;
  readonly missed: string[];
}

async function tallyOver(pictures: readonly Scene[], seed: number): Promise<Tally> {
  const random = seededRandom(seed);
  const tally: Tally = { put: 0, found: 0, elsewhere: 0, clean: 0, missed: [] };
  for (let body = 0; body < BODIES; body += 1) {
    const scenes = random.shuffled(pictures).slice(0, FRAMES_A_BODY);
    const put = someSpots(random, SIZE);
    const windows = windowsOf(random, scenes);
    const found = spotsIn(await Promise.all(windows.map((window) => throughJpeg(withDust(window, put)))));
    tally.put += put.length;
    for (const one of put)
      if (found.some((spot) => isAt(spot, one))) tally.found += 1;
      else tally.missed.push(`${one.acrossPx.toFixed(0)} px ${(100 * one.darker).toFixed(0)} %`);
    tally.elsewhere += found.filter((spot) => !put.some((one) => isAt(spot, one))).length;
    tally.clean += spotsIn(windows).length + spotsIn(scenes.map(({ plain }) => plain)).length;
  }
  return tally;
}

const picturesIn = async (folder: string, times: number, least = 0): Promise<readonly Scene[]> => {
  const files = readdirSync(folder).filter((name) => /\.(jpe?g|png)$/i.test(name));
  const images = await Promise.all(files.sort().map((name) => greyOf(join(folder, name))));
  const large = images.filter(({ width, height }) => Math.min(width, height) >= least);
  return Promise.all(large.map((image) => sceneOf(image, times)));
};

/** Enlarged, each weighs six megabytes. */
const everyFifth = (images: readonly GreyImage[]) => images.filter((_, at) => at % 5 === 0);

/** Evenly over the invented day. */
async function renders(): Promise<readonly GreyImage[]> {
  const files = [...(await keptFrames()).values()];
  const some = Array.from({ length: RENDERS }, (_, at) => files[Math.floor((at * files.length) / RENDERS)]!);
  return Promise.all(some.map(greyOf));
}

/** Camera files as they are: at half of 24 megapixels, those of one camera and size together. */
async function falseInOriginals(folder: string): Promise<{ readonly spots: number; readonly files: number }> {
  const files = readdirSync(folder).filter((name) => /\.jpe?g$/i.test(name));
  const bySize = new Map<string, GreyImage[]>();
  for (const name of files) {
    const { data, info } = await sharp(join(folder, name))
      .resize(3000, 3000, { fit: 'inside' })
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true });
    const key = `${info.width} × ${info.height}`;
    bySize.set(key, [...(bySize.get(key) ?? []), { data, width: info.width, height: info.height }]);
  }
  let spots = 0;
  for (const images of bySize.values()) spots += spotsIn(images).length;
  return { spots, files: files.length };
}

export async function dustAccuracy(
  data: string,
): Promise<{ readonly rows: readonly string[]; readonly figures: Figures }> {
  const rows: string[] = [];
  const rendered = await renders();
  const kinds: { readonly name: string; readonly pictures: readonly Scene[] }[] = [
    { name: 'renders', pictures: await enlargedRenders(rendered) },
  ];
  const hasData = existsSync(join(data, 'dividers'));
  if (hasData)
    kinds.push(
      { name: 'real sky', pictures: await picturesIn(join(data, 'dividers/sky'), 4) },
      { name: 'real tarmac', pictures: await picturesIn(join(data, 'dividers/asphalt'), 3, 80) },
    );
  else rows.push('SKIPPED: no real sky or tarmac here, so spots were put over renders only.');
  const all = { put: 0, found: 0, false: 0 };
  for (const [at, { name, pictures }] of kinds.entries()) {
    const tally = await tallyOver(pictures, 800 + at);
    all.put += tally.put;
    all.found += tally.found;
    all.false += tally.elsewhere + tally.clean;
    rows.push(
      `${name}: ${tally.found} of ${tally.put} spots found in ${BODIES} bodies of ${FRAMES_A_BODY} frames; ${tally.elsewhere} elsewhere, ${tally.clean} in the same frames without${tally.missed.length === 0 ? '' : `; missed ${tally.missed.join(', ')}`}`,
    );
  }
  let clean = 0;
  for (let from = 0; from < rendered.length; from += 20) clean += spotsIn(rendered.slice(from, from + 20)).length;
  rows.push(`${clean} spots in ${rendered.length} clean renders`);
  let notes = `${rendered.length} clean renders`;
  all.false += clean;
  if (existsSync(join(data, 'camera-originals'))) {
    const { spots, files } = await falseInOriginals(join(data, 'camera-originals'));
    rows.push(`${spots} spots in ${files} camera originals`);
    all.false += spots;
    notes += `, ${files} camera originals`;
  }
  return {
    rows,
    figures: {
      'dust.found': {
        value: all.found / all.put,
        unit: 'of 1',
        better: 'higher',
        note: `${all.found} of ${all.put} over ${kinds.map(({ name }) => name).join(', ')}`,
      },
      'dust.false': { value: all.false, unit: 'spots', better: 'lower', note: `in ${notes}, and the bodies above` },
    },
  };
}

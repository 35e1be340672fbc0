/**
 * How much brighter than white a paint is, where the two meet. Along the edge between a paint and something white on the same
 * part of bike or rider both lie in the same light, so that their ratio is the paint's own, whatever the sun does elsewhere
 * (E. H. Land, J. J. McCann, "Lightness and Retinex Theory", JOSA 61, 1971). A camera bends bright light towards its
 * white; the inverse of a plain such curve (E. Reinhard et al., "Photographic tone reproduction for digital images",
 * SIGGRAPH 2002, eq. 3) unbends it well enough for a ratio of neighbours. Whether what looked white was white is for
 * the session's other pictures to say.
 */
import { LINEAR_OF_BYTE } from '../numeric/colour.js';
import type { Light } from './estimateLight.js';
import { bandOf } from './fluorescent.js';
import type { RgbImage } from './images.js';
import type { SubjectMask } from './maskSubject.js';
import type { BesideWhite, SubjectPart } from './types.js';

const LEAST_INSIDE = 0.5;
/** Of the light's neutral: largest over smallest channel of what may be white, in linear light. */
const MOST_NEUTRAL_TINT = 1.6;
/** Darker than this even white in shade is not, in a picture that is exposed at all. */
const DARKEST_WHITE = 0.12;
/** Brighter the camera has bent all there is to compare. */
const BRIGHTEST_WHITE = 0.92;
/** A paint with more blue than this share of its brightest channel is none of those looked for. */
const MOST_BLUE = 0.22;
const DARKEST_PAINT = 0.1;
/** How far across an edge is looked, as a share of the subject's long edge; nearer the two are mixed. */
const REACH = 1 / 64;
const LEAST_REACH = 3;
/** Fewer places where a paint meets white say nothing; neither do fewer neutral pixels of how bright white is. */
const LEAST_PAIRS = 60;
const LEAST_NEUTRAL = 20;
/** The part of the neutral pixels that may be brighter: glints of the sun. */
const BRIGHTER_SHARE = 0.1;
const LEVELS = 1000;

const NEUTRAL = 1;
const PAINT = 2;

type Channels = readonly [Float64Array, Float64Array, Float64Array];

/** Linear light under a neutral light, by code. */
const neutralTables = ({ gains }: Light): Channels =>
  gains.map((gain) => LINEAR_OF_BYTE.map((linear) => linear * (gain / gains[1]))) as unknown as Channels;

function kindAt(data: Uint8Array, at: number, [reds, greens, blues]: Channels): number {
  const red = reds[data[at]!]!;
  const green = greens[data[at + 1]!]!;
  const blue = blues[data[at + 2]!]!;
  const most = Math.max(red, green, blue);
  const least = Math.min(red, green, blue);
  if (least > DARKEST_WHITE && most < MOST_NEUTRAL_TINT * least) return NEUTRAL;
  return most > DARKEST_PAINT && blue < MOST_BLUE * most ? PAINT : 0;
}

const levelAt = (data: Uint8Array, at: number): number =>
  0.2126 * LINEAR_OF_BYTE[data[at]!]! +
  0.7152 * LINEAR_OF_BYTE[data[at + 1]!]! +
  0.0722 * LINEAR_OF_BYTE[data[at + 2]!]!;

/** Linear light that the brighter of a subject's neutral parts reach, to a thousandth; null where there are hardly any. */
export function whiteLevelOf({ picture: { data }, inside }: SubjectMask, light: Light): number | null {
  const tables = neutralTables(light);
  const counts = new Uint32Array(LEVELS + 1);
  let neutral = 0;
  for (let cell = 0; cell < inside.length; cell += 1) {
    if (inside[cell]! < LEAST_INSIDE || kindAt(data, 3 * cell, tables) !== NEUTRAL) continue;
    counts[Math.round(LEVELS * levelAt(data, 3 * cell))]! += 1;
    neutral += 1;
  }
  if (neutral < LEAST_NEUTRAL) return null;
  let level = LEVELS;
  for (let brighter = counts[level]!; brighter <= BRIGHTER_SHARE * neutral; brighter += counts[level]!) level -= 1;
  return level / LEVELS;
}

const PARTS: readonly SubjectPart[] = ['bike', 'rider', 'helmet'];

function partAt({ worn, helmet, isRidden }: SubjectMask, cell: number): number {
  if (isRidden === false || worn![cell]! <= LEAST_INSIDE) return 0;
  return (helmet?.[cell] ?? 0) > LEAST_INSIDE ? 2 : 1;
}

/**
 * Every place where a paint and white lie a few pixels apart on one part, each amid its own kind. Nothing where nobody has said
 * what is worn: a paint and the white leathers behind it are two surfaces in two lights.
 */
export function compareWithWhite(mask: SubjectMask, image: RgbImage, light: Light): readonly BesideWhite[] {
  if (!mask.worn) return [];
  const { kinds, parts, width, height, placeOf } = planesOf(mask, image, light);
  const reach = Math.max(LEAST_REACH, Math.round((Math.max(width, height) / SUBJECT_AND_AROUND) * REACH));
  const isAmid = (index: number, kind: number) =>
    kinds[index] === kind &&
    kinds[index - 1] === kind &&
    kinds[index + 1] === kind &&
    kinds[index - width] === kind &&
    kinds[index + width] === kind;
  const steps = [reach, -reach, reach * width, -reach * width];
  const found = new Map<string, { on: SubjectPart; hue: BesideWhite['hue']; ratios: number[]; whites: number[] }>();
  for (let y = reach + 1; y < height - reach - 1; y += 1)
    for (let index = y * width + reach + 1, end = (y + 1) * width - reach - 1; index < end; index += 1) {
      if (kinds[index] !== PAINT || !isAmid(index, PAINT)) continue;
      for (const step of steps) {
        const other = index + step;
        if (kinds[other] !== NEUTRAL || parts[other] !== parts[index] || !isAmid(other, NEUTRAL)) continue;
        const level = levelAt(image.data, placeOf(other));
        const band = level < BRIGHTEST_WHITE ? bandOf(ratioOf(image.data, placeOf(index), placeOf(other))) : null;
        if (!band) continue;
        const on = PARTS[parts[index]!]!;
        const key = `${on} ${band.hue}`;
        const own = found.get(key) ?? { on, hue: band.hue, ratios: [], whites: [] };
        own.ratios.push(band.ratio);
        own.whites.push(level);
        found.set(key, own);
      }
    }
  return [...found.values()]
    .filter(({ ratios }) => ratios.length >= LEAST_PAIRS)
    .map(({ on, hue, ratios, whites }) => ({
      on,
      hue,
      pairs: ratios.length,
      ratio: rounded(middleOf(ratios)),
      white: rounded(middleOf(whites)),
    }));
}

/** A mask's cut-out is this many times as long as its subject. */
const SUBJECT_AND_AROUND = 1.5;

/** What lies where in the mask's cut-out, at the picture's own size. */
function planesOf(mask: SubjectMask, image: RgbImage, light: Light) {
  const { rect, picture, inside } = mask;
  const [width, height] = [rect.right - rect.left, rect.bottom - rect.top];
  const kinds = new Uint8Array(width * height);
  const parts = new Uint8Array(width * height);
  const tables = neutralTables(light);
  const columns = Int32Array.from({ length: width }, (_, x) => Math.floor(((x + 0.5) * picture.width) / width));
  for (let y = 0, index = 0; y < height; y += 1) {
    const row = Math.floor(((y + 0.5) * picture.height) / height) * picture.width;
    const from = 3 * ((y + rect.top) * image.width + rect.left);
    for (let x = 0; x < width; x += 1, index += 1) {
      const cell = row + columns[x]!;
      if (inside[cell]! < LEAST_INSIDE) continue;
      kinds[index] = kindAt(image.data, from + 3 * x, tables);
      parts[index] = partAt(mask, cell);
    }
  }
  const placeOf = (index: number) =>
    3 * ((Math.floor(index / width) + rect.top) * image.width + (index % width) + rect.left);
  return { kinds, parts, width, height, placeOf };
}

const middleOf = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;
const rounded = (value: number): number => Math.round(1000 * value) / 1000;

/** Light before the camera bent it, up to a factor. White is never quite reached. */
const UNBENT: Float64Array = LINEAR_OF_BYTE.map((linear) => linear / (1.03 - linear));

/** Of paint to white, channel by channel. */
function ratioOf(data: Uint8Array, paint: number, white: number): readonly [number, number, number] {
  const of = (channel: number) => UNBENT[data[paint + channel]!]! / Math.max(1e-6, UNBENT[data[white + channel]!]!);
  return [of(0), of(1), of(2)];
}

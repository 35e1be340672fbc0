import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { labOfRgb } from '../numeric/colour.js';
import { drawRgb, grain, type Rgb, underLight } from './drawnPictures.js';
import { estimateLight } from './estimateLight.js';
import type { RgbImage } from './images.js';
import { maskSubject } from './maskSubject.js';
import { measureColours } from './measureColours.js';
import { areNeighbours, nameColour } from './nameColour.js';
import type { Box, ColourName } from './types.js';

interface Word {
  readonly name: string;
  readonly hex: string;
  readonly means: ColourName;
}

const NAMES: readonly ColourName[] = [
  ...(['black', 'white', 'grey', 'silver', 'red', 'orange', 'yellow', 'lime'] as const),
  ...(['green', 'teal', 'blue', 'navy', 'purple', 'pink', 'brown'] as const),
];

describe('colour names', () => {
  // xkcd colour survey and ISCC-NBS centroids, by way of npm color-name-lists 3.33.2 (both lists CC0 1.0).
  const fixture = new URL('./fixtures/colourWords.json', import.meta.url);
  const { colours } = JSON.parse(readFileSync(fixture, 'utf8')) as { colours: Word[] };
  const ours = colours.map(({ hex, means, name }) => {
    const [red, green, blue] = [0, 2, 4].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
    return { name, means, said: nameColour(labOfRgb(red!, green!, blue!)) };
  });

  it('agree with published dictionaries for 85 of 100 colours, and for 92 up to a neighbour', () => {
    const exact = ours.filter(({ means, said }) => means === said);
    const near = ours.filter(({ means, said }) => means === said || areNeighbours(means, said));
    expect(ours).toHaveLength(248);
    expect(exact.length / ours.length).toBeGreaterThan(0.85);
    expect(near.length / ours.length).toBeGreaterThan(0.92);
  });

  it('never take one strong hue for a far one: what differs is pale, dark or next to it', () => {
    const far = ours.filter(({ means, said }) => means !== said && !areNeighbours(means, said));
    const neutral: readonly ColourName[] = ['black', 'grey', 'silver', 'white'];
    const strong = far.filter(({ said }) => !neutral.includes(said));
    expect(strong.map(({ name, said }) => `${name} → ${said}`)).toEqual([
      'very light brown → yellow',
      'deep brown → red',
    ]);
  });
});

describe('neighbours', () => {
  it('are at most two for a colour, and mutual', () => {
    for (const a of NAMES) {
      expect(NAMES.filter((b) => areNeighbours(a, b)).length).toBeLessThanOrEqual(2);
      for (const b of NAMES) expect(areNeighbours(a, b)).toBe(areNeighbours(b, a));
    }
  });

  it('are never black and white, nor a colour and itself', () => {
    expect(areNeighbours('black', 'white')).toBe(false);
    for (const a of NAMES) expect(areNeighbours(a, a)).toBe(false);
  });
});

const TARMAC: Rgb = [118, 116, 115];
const LEATHERS: Rgb = [232, 232, 230];
const TYRE: Rgb = [24, 24, 25];
const bikeBox: Box = [0.25, 0.42, 0.5, 0.42];
const riderBox: Box = [0.4, 0.2, 0.24, 0.38];

/** A bike of two wheels, a fairing and an engine, a rider above it, on tarmac before a grass bank, under one light. */
function drawRider(paint: Rgb, tint: readonly [number, number, number], leathers = LEATHERS): RgbImage {
  const speckle = (rgb: Rgb, x: number, y: number): Rgb => {
    const factor = 0.88 + 0.24 * grain(x, y, 3);
    return [rgb[0] * factor, rgb[1] * factor, rgb[2] * factor].map((v) =>
      Math.min(255, Math.round(v)),
    ) as unknown as Rgb;
  };
  return drawRgb(240, 160, (x, y) => underLight(speckle(surfaceAt(x / 240, y / 160, paint, leathers), x, y), tint));
}

function surfaceAt(u: number, v: number, paint: Rgb, leathers: Rgb): Rgb {
  const inEllipse = (cx: number, cy: number, rx: number, ry: number) => ((u - cx) / rx) ** 2 + ((v - cy) / ry) ** 2 < 1;
  if (inEllipse(0.34, 0.72, 0.085, 0.12) || inEllipse(0.66, 0.72, 0.085, 0.12)) return TYRE;
  if (inEllipse(0.5, 0.34, 0.1, 0.14)) return leathers;
  if (inEllipse(0.5, 0.56, 0.2, 0.13)) return paint;
  if (inEllipse(0.5, 0.7, 0.1, 0.08)) return [70, 70, 72];
  return v < 0.25 ? [92, 120, 66] : TARMAC;
}

/** Linear-light factors. Open shade on a clear day is bluer by about a third, an evening sun yellower. */
const LIGHTS = {
  noon: [1, 1, 1],
  shade: [0.42, 0.47, 0.58],
  evening: [1.0, 0.82, 0.6],
} as const;

const PAINTS: readonly { readonly name: ColourName; readonly paint: Rgb }[] = [
  { name: 'red', paint: [196, 24, 30] },
  { name: 'orange', paint: [238, 112, 20] },
  { name: 'yellow', paint: [240, 205, 30] },
  { name: 'lime', paint: [150, 215, 40] },
  { name: 'green', paint: [20, 125, 60] },
  { name: 'blue', paint: [35, 85, 190] },
  { name: 'purple', paint: [120, 50, 150] },
  { name: 'black', paint: [30, 30, 31] },
  { name: 'white', paint: [236, 236, 234] },
];

function coloursOf(image: RgbImage) {
  const subject = {
    what: 'motorcycle',
    box: [0.25, 0.2, 0.5, 0.64],
    bikeBox,
    riderBox,
    score: 0.9,
    isCut: false,
  } as const;
  return measureColours(maskSubject(image, subject), image, subject, estimateLight(image));
}

describe.each(Object.entries(LIGHTS))('in the light of %s', (_, tint) => {
  it.each(PAINTS)('a $name bike is called $name', ({ name, paint }) => {
    const { bike } = coloursOf(drawRider(paint, tint));
    expect(bike[0]?.name).toBe(name);
    expect(bike.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });
});

describe('bike and rider', () => {
  it('have their colours apart: a black bike with a rider in red leathers', () => {
    const { bike, rider } = coloursOf(drawRider([28, 28, 29], [1, 1, 1], [200, 25, 30]));
    expect(bike[0]?.name).toBe('black');
    expect(rider[0]?.name).toBe('red');
  });
});

describe('the light', () => {
  it('is left alone where nothing is neutral: a frame of grass keeps its green', () => {
    const grass = drawRgb(96, 64, (x, y) => {
      const factor = 0.8 + 0.4 * grain(x, y);
      return [Math.round(84 * factor), Math.round(128 * factor), Math.round(48 * factor)];
    });
    const { gains } = estimateLight(grass);
    expect(gains[0] / gains[1]).toBeCloseTo(1, 1);
    expect(gains[2] / gains[1]).toBeCloseTo(1, 1);
  });

  it('takes the blue of open shade off tarmac', () => {
    const shade = drawRgb(96, 64, (x, y) => {
      const value = 60 + Math.round(60 * grain(x, y));
      return underLight([value, value, value], LIGHTS.shade);
    });
    const { gains } = estimateLight(shade);
    expect(gains[0] / gains[1]).toBeCloseTo(0.47 / 0.42, 1);
    expect(gains[2] / gains[1]).toBeCloseTo(0.47 / 0.58, 1);
  });
});

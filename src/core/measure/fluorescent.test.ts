import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { codeOf, type LinearRgb, linearOfXyz } from '../numeric/colour.js';
import { compareWithWhite, whiteLevelOf } from './compareWithWhite.js';
import { drawRgb, type Rgb } from './drawnPictures.js';
import { bandOf, isFluorescent } from './fluorescent.js';
import type { RgbImage } from './images.js';
import type { SubjectMask } from './maskSubject.js';
import { areNeighbours, fluorescent, foundUnder, neighboursOf } from './nameColour.js';
import type { BesideWhite, FluorescentHue } from './types.js';

const read = <T>(name: string): T =>
  JSON.parse(readFileSync(new URL(`./fixtures/${name}`, import.meta.url), 'utf8')) as T;

const linearOfXyY = (x: number, y: number, luminance: number): LinearRgb =>
  linearOfXyz([(x * luminance) / y, luminance, ((1 - x - y) * luminance) / y]);

/** White paint beside it reflects 0.85; channels that sRGB cannot show are none. */
const besideWhitePaint = (linear: LinearRgb): LinearRgb =>
  linear.map((value) => Math.max(0, value) / 0.85) as unknown as LinearRgb;

interface Box {
  readonly hue: FluorescentHue;
  readonly leastLuminance: number;
  readonly corners: readonly (readonly [number, number])[];
}
const STANDARD = read<{ colours: readonly Box[]; roadSigns: { colours: readonly Box[] } }>('fluorescentColours.json');
const OPTIMAL = read<{ colours: readonly (readonly [number, number, number])[] }>('optimalColours.json').colours;

const middleOf = ({ corners }: Box): readonly [number, number] =>
  [0, 1].map((axis) => corners.reduce((sum, corner) => sum + corner[axis]!, 0) / corners.length) as [number, number];

describe('fluorescent paint by published limits (MS22)', () => {
  it('is no optimal colour: what only reflects is never called so beside white paint', () => {
    const called = OPTIMAL.filter(([x, y, percent]) => {
      const band = bandOf(besideWhitePaint(linearOfXyY(x, y, percent / 100)));
      return band !== null && isFluorescent(band.hue, band.ratio);
    });
    expect(OPTIMAL).toHaveLength(86);
    expect(called).toEqual([]);
  });

  it('has the hues of the standard’s boxes, and of the road signs’', () => {
    for (const box of [...STANDARD.colours, ...STANDARD.roadSigns.colours])
      expect(bandOf(besideWhitePaint(linearOfXyY(...middleOf(box), 0.5)))?.hue, JSON.stringify(box)).toBe(box.hue);
  });

  it('is orange-red from the standard’s least luminance factor on; of yellow and red more is asked', () => {
    const least = Object.fromEntries(
      STANDARD.colours.map((box) => {
        const at = (luminance: number) => bandOf(besideWhitePaint(linearOfXyY(...middleOf(box), luminance)))!;
        const from = Array.from({ length: 120 }, (_, step) => step / 100).find(
          (luminance) => luminance > 0 && isFluorescent(box.hue, at(luminance).ratio),
        );
        return [box.hue, from];
      }),
    );
    expect(least).toEqual({ yellow: 0.99, orange: 0.41, red: 0.3 });
    for (const { hue, leastLuminance } of STANDARD.colours) expect(least[hue]).toBeGreaterThanOrEqual(leastLuminance);
  });

  it('is nothing said of ordinary orange yellow, of green, or of what has blue in it', () => {
    expect(bandOf([1.5, 0.6, 0.05])).toBeNull();
    expect(bandOf([0.3, 1.5, 0.05])).toBeNull();
    expect(bandOf([1.8, 0.1, 0.5])).toBeNull();
  });
});

describe('neighbours of fluorescent colours (MS18)', () => {
  it('are two ordinary ones, and an ordinary one has none of them', () => {
    for (const hue of ['yellow', 'orange', 'red'] as const) {
      expect(neighboursOf(fluorescent(hue))).toHaveLength(2);
      expect(neighboursOf(fluorescent(hue))[0]).toBe(hue);
      expect(neighboursOf(hue).every((name) => !name.startsWith('fluorescent'))).toBe(true);
      expect(areNeighbours(hue, fluorescent(hue))).toBe(true);
    }
  });

  it('a fluorescent paint is found under its ordinary name too, once', () => {
    expect(foundUnder(['fluorescent yellow', 'black', 'yellow'])).toEqual(['fluorescent yellow', 'yellow', 'black']);
  });
});

const WHITE = 0.8;
/** As a camera bends light: the curve that is taken back. */
const bent = (linear: number): number => Math.round(255 * codeOf((1.03 * linear) / (1 + linear)));
const lit = (reflects: LinearRgb, light: number): Rgb => reflects.map((value) => bent(value * light)) as unknown as Rgb;

/** Bands of white and a paint over a subject, in a light that falls off from left to right to a quarter. */
function banded(paint: LinearRgb, white: LinearRgb = [WHITE, WHITE, WHITE]): { image: RgbImage; mask: SubjectMask } {
  const image = drawRgb(160, 120, (x, y) => lit(y % 24 < 12 ? white : paint, 1.6 - (1.2 * x) / 160));
  const cells = new Float32Array(160 * 120);
  return {
    image,
    mask: {
      picture: image,
      rect: { left: 0, top: 0, right: 160, bottom: 120 },
      inside: cells.slice().fill(1),
      worn: cells,
      helmet: cells,
      isRidden: true,
    },
  };
}

const NEUTRAL_LIGHT = { gains: [1, 1, 1] } as const;
const onlyOne = (seen: readonly BesideWhite[]): BesideWhite => {
  expect(seen).toHaveLength(1);
  return seen[0]!;
};

describe('a paint beside white (MS22)', () => {
  it.each([
    ['orange', [1.4, 0.14, 0.01], 1.75],
    ['red', [0.6, 0.01, 0.01], 0.75],
    ['yellow', [0.72, 1.0, 0.01], 1.25],
  ] as const)('%s has its own ratio to white, however the light falls off', (hue, paint, ratio) => {
    const { image, mask } = banded(paint);
    const seen = onlyOne(compareWithWhite(mask, image, NEUTRAL_LIGHT));
    expect(seen).toMatchObject({ on: 'bike', hue });
    // Eight bits, most of them below the bend.
    expect(Math.abs(seen.ratio / ratio - 1)).toBeLessThan(0.06);
  });

  it('keeps how bright the white was, so that silver is told from it', () => {
    const paint = [0.86, 0.13, 0.01] as const;
    const of = (white: LinearRgb) => {
      const { image, mask } = banded(paint, white);
      return onlyOne(compareWithWhite(mask, image, NEUTRAL_LIGHT));
    };
    const [white, silver] = [of([WHITE, WHITE, WHITE]), of([0.45, 0.45, 0.46])];
    expect(isFluorescent('orange', white.ratio)).toBe(false);
    expect(isFluorescent('orange', silver.ratio)).toBe(true);
    const unbent = (level: number) => level / (1.03 - level);
    expect(unbent(silver.white) / unbent(white.white)).toBeLessThan(0.6);
  });

  it('says nothing where nobody has said what is worn, nor where no white is', () => {
    const { image, mask } = banded([1.4, 0.14, 0.01]);
    const { worn: _, helmet: __, ...untold } = mask;
    expect(compareWithWhite(untold, image, NEUTRAL_LIGHT)).toEqual([]);
    const dark = banded([1.4, 0.14, 0.01], [0.02, 0.02, 0.02]);
    expect(compareWithWhite(dark.mask, dark.image, NEUTRAL_LIGHT)).toEqual([]);
    expect(whiteLevelOf(dark.mask, NEUTRAL_LIGHT)).toBeNull();
  });

  it('finds how bright white is on the brighter tenth of the neutral parts', () => {
    const level = (share: number) => {
      const image = drawRgb(100, 100, (x) => (x < 100 * share ? [240, 240, 240] : [130, 130, 130]));
      const inside = new Float32Array(10_000).fill(1);
      return whiteLevelOf(
        { picture: image, rect: { left: 0, top: 0, right: 100, bottom: 100 }, inside },
        NEUTRAL_LIGHT,
      );
    };
    // Linear light of the codes 240 and 130 by IEC 61966-2-1.
    expect(level(0.2)).toBeCloseTo(0.871, 3);
    expect(level(0.05)).toBeCloseTo(0.223, 3);
  });

  it('does not compare what is worn with what is not', () => {
    const { image, mask } = banded([1.4, 0.14, 0.01]);
    const worn = Float32Array.from(mask.worn!, (_, cell) => (Math.floor(cell / 160) % 24 < 12 ? 1 : 0));
    expect(compareWithWhite({ ...mask, worn }, image, NEUTRAL_LIGHT)).toEqual([]);
  });
});

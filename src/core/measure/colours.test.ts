import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { codeOf, type Lab, LINEAR_OF_BYTE, labOfRgb } from '../numeric/colour.js';
import { ciede2000 } from '../numeric/colourDifference.js';
import type { SubjectBoxes } from './assembleSubjects.js';
import { drawRgb, grain, type Rgb, underLight } from './drawnPictures.js';
import { estimateLight } from './estimateLight.js';
import { findVeil } from './findVeil.js';
import type { RgbImage } from './images.js';
import { maskSubject } from './maskSubject.js';
import { measureColours } from './measureColours.js';
import { areNeighbours, nameColour } from './nameColour.js';
import { findWorn } from './partSubject.js';
import type { Box, ColourName } from './types.js';

const NAMES: readonly ColourName[] = [
  ...(['black', 'white', 'grey', 'silver', 'red', 'orange', 'yellow', 'lime'] as const),
  ...(['green', 'teal', 'blue', 'navy', 'purple', 'pink', 'brown'] as const),
];

const WORDS = new URL('./fixtures/colourWords.json', import.meta.url);

function labOfHex(hex: string): Lab {
  const [red, green, blue] = [0, 2, 4].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
  return labOfRgb(red!, green!, blue!);
}

/** Lists of names, each to its hexadecimal sRGB. */
const LISTS = (JSON.parse(readFileSync(WORDS, 'utf8')) as { colours: Record<string, Record<string, string>> }).colours;
/** What a name's last word means, where all before it only say how light, strong or pure. */
const ALSO: Readonly<Record<string, ColourName>> = {
  turquoise: 'teal',
  cyan: 'teal',
  violet: 'purple',
  maroon: 'red',
  gray: 'grey',
};
const HOW =
  /^(?:(?:electric|dusty|strong|deep|very|light|baby|royal|pale|bright|neon|dark|rich|vivid|true|dirty|hot|dull|pure|medium|faded|soft|moderate|brilliant) )*(\w+)$/;

function meantBy(name: string): ColourName | undefined {
  const word = HOW.exec(name)?.[1] ?? '';
  return ALSO[word] ?? NAMES.find((one) => one === word);
}

/** What the dictionaries call a colour, and what we do. */
const COMPARED = Object.values(LISTS)
  .flatMap((list) => Object.entries(list))
  .flatMap(([name, hex]) => {
    const means = meantBy(name);
    const lab = labOfHex(hex);
    return means === undefined ? [] : [{ name, means, lab, said: nameColour(lab) }];
  });
const NEUTRAL: readonly ColourName[] = ['black', 'grey', 'silver', 'white'];

describe('colour names', () => {
  it('agree with published dictionaries for 90 of 100 colours, and for 94 up to a neighbour', () => {
    const exact = COMPARED.filter(({ means, said }) => means === said);
    const near = COMPARED.filter(({ means, said }) => means === said || areNeighbours(means, said));
    expect(COMPARED).toHaveLength(248);
    expect(exact.length / COMPARED.length).toBeGreaterThan(0.9);
    expect(near.length / COMPARED.length).toBeGreaterThan(0.94);
  });

  it('never take one strong hue for a far one: what differs is pale, dark or next to it', () => {
    const far = COMPARED.filter(({ means, said }) => means !== said && !areNeighbours(means, said));
    const strong = far.filter(({ said }) => !NEUTRAL.includes(said));
    expect(strong.map(({ name, said }) => `${name} → ${said}`)).toEqual([
      'very light brown → yellow',
      'deep brown → red',
    ]);
  });
});

describe('colours that we name otherwise than the dictionaries', () => {
  /** CIEDE2000 to the nearest colour that the dictionaries call what we said. */
  const misnamed = COMPARED.filter(({ means, said }) => means !== said).map((word) => {
    const called = COMPARED.filter(({ means }) => means === word.said);
    return { ...word, away: Math.min(...called.map(({ lab }) => ciede2000(lab, word.lab))) };
  });

  it('lie near some that they call as we do: of two hues within 13, of pale and dark ones within 20', () => {
    expect(misnamed).toHaveLength(24);
    for (const { name, said, away } of misnamed)
      expect(away, `${name} → ${said}`).toBeLessThan(NEUTRAL.includes(said) ? 20 : 13);
  });
});

describe('red and orange paint', () => {
  // Centroids of ISCC-NBS (National Bureau of Standards, Circular 553, 1955) by way of npm color-name-lists 3.33.2.
  it.each([
    ['vivid red', 'be0032', 'red'],
    ['strong red', 'bc3f4a', 'red'],
    ['deep red', '841b2d', 'red'],
    ['vivid reddish orange', 'e25822', 'orange'],
    ['strong reddish orange', 'd9603b', 'orange'],
    ['vivid orange', 'f38400', 'orange'],
    ['deep orange', 'be6516', 'orange'],
    ['vivid orange yellow', 'f6a600', 'yellow'],
  ] as const)('%s #%s is %s', (_, hex, name) => {
    expect(nameColour(labOfHex(hex))).toBe(name);
  });

  it('part on a slant: a light reddish hue is orange where a dark one is still red', () => {
    const at = (lightness: number, chroma: number): Lab => {
      const hue = (42 * Math.PI) / 180;
      return [lightness, chroma * Math.cos(hue), chroma * Math.sin(hue)];
    };
    expect(nameColour(at(57, 75))).toBe('orange');
    expect(nameColour(at(34, 60))).toBe('red');
  });
});

describe('neighbours (MS18)', () => {
  it('are at most two for a colour, and mutual', () => {
    for (const a of NAMES) {
      expect(NAMES.filter((b) => areNeighbours(a, b)).length).toBeLessThanOrEqual(2);
      for (const b of NAMES) expect(areNeighbours(a, b)).toBe(areNeighbours(b, a));
    }
  });

  it('of grey are silver, as white looks in shadow, and black, as matt paint may be grey', () => {
    expect(NAMES.filter((name) => areNeighbours('grey', name))).toEqual(['black', 'silver']);
  });

  it('are never black and white, nor a colour and itself', () => {
    expect(areNeighbours('black', 'white')).toBe(false);
    for (const a of NAMES) expect(areNeighbours(a, a)).toBe(false);
  });
});

const TARMAC: Rgb = [118, 116, 115];
const LEATHERS: Rgb = [232, 232, 230];
const TYRE: Rgb = [24, 24, 25];
const alone = (box: Box) => ({ what: 'motorcycle', box, bikeBox: box, score: 0.9, isCut: false }) as const;
/** As `drawRider` draws bike and rider. */
const RIDDEN = {
  ...alone([0.25, 0.2, 0.5, 0.64]),
  bikeBox: [0.25, 0.42, 0.5, 0.42],
  riderBox: [0.4, 0.2, 0.24, 0.38],
} as const;

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

const coloursOf = (image: RgbImage, subject: SubjectBoxes = RIDDEN) =>
  measureColours(maskSubject(image, subject), image, subject, estimateLight(image));

describe.each(Object.entries(LIGHTS))('in the light of %s', (_, tint) => {
  it.each(PAINTS)('a $name bike is called $name', ({ name, paint }) => {
    const { bike } = coloursOf(drawRider(paint, tint));
    expect(bike[0]?.name).toBe(name);
    expect(bike.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });
});

describe('a veil of light against the sun (MS20)', () => {
  const VEIL = [0.07, 0.035, 0.012] as const;
  const veiled = (image: RgbImage): RgbImage => {
    const laid = VEIL.map((light) =>
      Uint8Array.from(LINEAR_OF_BYTE, (linear) => Math.round(255 * codeOf(Math.min(1, linear * (1 - light) + light)))),
    );
    return { ...image, data: image.data.map((byte, at) => laid[at % 3]![byte]!) };
  };

  it.each(PAINTS.filter(({ name }) => ['black', 'blue', 'green', 'white', 'red'].includes(name)))(
    'does not turn a $name bike into another',
    ({ name, paint }) => {
      expect(coloursOf(veiled(drawRider(paint, [1, 1, 1]))).bike[0]?.name).toBe(name);
    },
  );

  it('is found to a hundredth from what is black on the subject', () => {
    const image = veiled(drawRider([196, 24, 30], [1, 1, 1]));
    const found = findVeil(maskSubject(image, RIDDEN));
    for (const [channel, light] of VEIL.entries()) expect(Math.abs(found[channel]! - light)).toBeLessThan(0.01);
  });

  it('is at most a tenth of white, whatever the subject', () => {
    const image = drawRgb(120, 80, () => [200, 200, 200]);
    expect(findVeil(maskSubject(image, alone([0.2, 0.2, 0.6, 0.6])))).toEqual([0.1, 0.1, 0.1]);
  });
});

describe('bike and rider', () => {
  it('have their colours apart: a black bike with a rider in red leathers', () => {
    const { bike, rider } = coloursOf(drawRider([28, 28, 29], [1, 1, 1], [200, 25, 30]));
    expect(bike[0]?.name).toBe('black');
    expect(rider[0]?.name).toBe('red');
  });
});

describe('one paint in shade and glare (MS17)', () => {
  /** A round bike in upright bands of one width, over and over. */
  const banded = (...paints: readonly Rgb[]) => {
    const image = drawRgb(240, 160, (x, y) => {
      const [u, v] = [x / 240, y / 160];
      const isBike = ((u - 0.5) / 0.25) ** 2 + ((v - 0.6) / 0.25) ** 2 < 1;
      return isBike ? paints[Math.floor((x % (10 * paints.length)) / 10)]! : TARMAC;
    });
    return coloursOf(image, alone([0.25, 0.35, 0.5, 0.5])).bike;
  };

  it('is orange where half is orange and half the red of its own shade', () => {
    expect(banded([232, 104, 30], [168, 40, 24]).map(({ name }) => name)).toEqual(['orange']);
  });

  it('is orange where glare is yellow and shade red, and a quarter orange between them', () => {
    const [red, orange, yellow]: readonly Rgb[] = [
      [168, 40, 24],
      [232, 104, 30],
      [240, 200, 60],
    ];
    expect(banded(red!, red!, orange!, yellow!).map(({ name }) => name)).toEqual(['orange']);
    expect(banded(red!, red!, yellow!, yellow!).map(({ name }) => name)).not.toContain('orange');
  });

  it('stays two where the colours do not run into each other', () => {
    const names = banded([196, 24, 30], [35, 85, 190]).map(({ name }) => name);
    expect([...names].sort()).toEqual(['blue', 'red']);
  });
});

describe('what is worn (MS16)', () => {
  const image = drawRider([35, 85, 190], [1, 1, 1], [200, 25, 30]);
  const mask = maskSubject(image, RIDDEN);

  it('is told by place and colour: the leathers above the fairing, not the fairing', () => {
    const worn = findWorn(mask, image, RIDDEN);
    const at = (u: number, v: number) => {
      const { rect, picture } = mask;
      const x = Math.floor(((u * 240 - rect.left) / (rect.right - rect.left)) * picture.width);
      const y = Math.floor(((v * 160 - rect.top) / (rect.bottom - rect.top)) * picture.height);
      return worn[y * picture.width + x]!;
    };
    expect(at(0.5, 0.3)).toBeGreaterThan(0.9);
    expect(at(0.5, 0.62)).toBeLessThan(0.2);
    expect(at(0.4, 0.6)).toBeLessThan(0.2);
  });

  it('is nothing where nobody rides', () => {
    const { riderBox: _, ...parked } = RIDDEN;
    expect(Math.max(...findWorn(mask, image, parked))).toBe(0);
  });

  it('is taken from whoever has said it: a mask that calls all of it worn leaves the bike without a colour', () => {
    const all = { ...mask, worn: new Float32Array(mask.inside.length).fill(1) };
    const { bike, rider } = measureColours(all, image, RIDDEN, estimateLight(image));
    expect(bike).toEqual([]);
    expect(rider.map(({ name }) => name)).toContain('blue');
  });

  it('has no colours where nobody rides, whatever looks worn', () => {
    const parked = { ...mask, worn: new Float32Array(mask.inside.length).fill(0.5), isRidden: false };
    const { bike, rider } = measureColours(parked, image, RIDDEN, estimateLight(image));
    expect(bike.length).toBeGreaterThan(0);
    expect(rider).toEqual([]);
  });

  /** The top of what is red and worn is a helmet, painted white with a black visor in its lower part. */
  const withHelmet = () => {
    const { picture, inside } = mask;
    const data = picture.data.slice();
    const helmet = new Float32Array(inside.length);
    const top = inside.findIndex((share, at) => share > 0.5 && data[3 * at]! > 150);
    for (let y = 0, from = Math.floor(top / picture.width); y < 16; y += 1) {
      for (let at = (from + y) * picture.width; at < (from + y + 1) * picture.width; at += 1) {
        if (inside[at]! <= 0.5) continue;
        helmet[at] = 1;
        data.fill(y < 13 ? 235 : 20, 3 * at, 3 * at + 3);
      }
    }
    return { ...mask, picture: { ...picture, data }, worn: findWorn(mask, image, RIDDEN), helmet };
  };

  it('has the helmet apart from the leathers where that is known, and its visor counts little', () => {
    const { rider, helmet } = measureColours(withHelmet(), image, RIDDEN, estimateLight(image));
    expect(rider[0]?.name).toBe('red');
    expect(rider.map(({ name }) => name)).not.toContain('white');
    expect(helmet.map(({ name }) => name)).toEqual(['white']);
  });

  it('says nothing of a helmet where nobody has told it apart', () => {
    expect(measureColours(mask, image, RIDDEN, estimateLight(image)).helmet).toEqual([]);
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

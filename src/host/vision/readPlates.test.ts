import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { RgbImage } from '../../core/measure/images.js';
import { openVision, type Vision } from './index.js';

/** Strokes in a box 56 wide and 100 high. */
const FIGURES: Readonly<Record<string, string>> = {
  '1': 'M8 20 L24 6 V94',
  '4': 'M40 94 V6 L6 68 H54',
  '6': 'M44 10 C20 22 8 46 8 68 A21 22 0 1 0 50 68 A21 22 0 1 0 8 68',
  '7': 'M6 10 H50 L22 94',
};
const PITCH = 66;

/** A bright plate with figures fifty pixels high, turned, on grey. */
async function plate(text: string, leanDeg: number): Promise<RgbImage> {
  const wide = text.length * PITCH;
  const figures = [...text].map(
    (figure, place) => `<path transform="translate(${place * PITCH - wide / 2} -50)" d="${FIGURES[figure] ?? ''}"/>`,
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="640" height="480"><rect width="640" height="480" fill="#6a6d70"/>
    <g transform="translate(320 240) rotate(${leanDeg}) scale(.5)">
    <rect x="${-wide / 2 - 20}" y="-70" width="${wide + 40}" height="140" rx="14" fill="#f4f2ea"/>
    <g fill="none" stroke="#15171a" stroke-width="13">${figures.join('')}</g></g></svg>`;
  const { data, info } = await sharp(Buffer.from(svg)).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
}

let vision: Vision;
beforeAll(async () => {
  vision = await openVision();
});
afterAll(() => vision.close());

it.each([
  ['46', 0],
  ['46', 40],
  ['46', -55],
  ['7', 20],
  ['174', -30],
])(
  'MS21: %s on a plate turned by %s degrees is read, with where it stands and how it is turned',
  async (text, lean) => {
    const readings = await vision.readNumbers(await plate(text, lean), { left: 100, top: 60, right: 540, bottom: 420 });
    expect(readings[0]).toMatchObject({ text, isWhole: true });
    expect(readings[0]!.confidence).toBeGreaterThan(0.5);
    expect(Math.abs(readings[0]!.turnedDeg - lean)).toBeLessThan(6);
    const [left, top, width, height] = readings[0]!.box;
    expect(left + width / 2).toBeCloseTo(0.5, 1);
    expect(top + height / 2).toBeCloseTo(0.5, 1);
  },
);

it('MS21: a plate without figures is read as none', async () => {
  expect(await vision.readNumbers(await plate('  ', 20), { left: 100, top: 60, right: 540, bottom: 420 })).toEqual([]);
});

/**
 * Prints what the limits in `src/core/measure/fluorescent.ts` are taken from: the most that an object colour reflects in the
 * brightest channel within each hue's range, what the standard's least luminance factor is in that channel at the middle
 * of its box, and the range of green over red in the box. Run: `npx tsx tools/colours/fitFluorescent.ts`
 */
import { readFileSync } from 'node:fs';
import { type LinearRgb, linearOfXyz } from '../../src/core/numeric/colour.js';

interface Box {
  readonly hue: string;
  readonly leastLuminance: number;
  readonly corners: readonly (readonly [number, number])[];
}

const FIXTURES = new URL('../../src/core/measure/fixtures/', import.meta.url);
const read = <T>(name: string): T => JSON.parse(readFileSync(new URL(name, FIXTURES), 'utf8')) as T;

const linearOfXyY = ([x, y]: readonly [number, number], luminance: number): LinearRgb =>
  linearOfXyz([(x * luminance) / y, luminance, ((1 - x - y) * luminance) / y]);

const optimal = [
  [1, 1, 1] as LinearRgb,
  ...read<{ colours: [number, number, number][] }>('optimalColours.json').colours.map(([x, y, percent]) =>
    linearOfXyY([x, y], percent / 100),
  ),
];

/** The ranges that the limits hold for, as in `fluorescent.ts`. */
const RANGES: Readonly<Record<string, readonly [fromGreen: number, toGreen: number]>> = {
  red: [0, 0.04],
  orange: [0.04, 0.22],
  yellow: [0.86, 2.45],
};
const MOST_BLUE = 0.2;
const WEIGHTS = Array.from({ length: 201 }, (_, step) => step / 200);

/** The body of object colours is convex, so that mixtures of two optimal colours lie in it, and the largest nearly on its skin. */
function mostOfObjects(hue: string): number {
  const [fromGreen, toGreen] = RANGES[hue]!;
  let most = 0;
  for (const [index, one] of optimal.entries())
    for (const other of optimal.slice(index))
      for (const weight of WEIGHTS) {
        const [red, green, blue] = [0, 1, 2].map((c) => weight * one[c]! + (1 - weight) * other[c]!) as [
          number,
          number,
          number,
        ];
        const band = hue === 'yellow' ? green : red;
        if (green >= fromGreen * red && green < toGreen * red && blue <= MOST_BLUE * band) most = Math.max(most, band);
      }
  return most;
}

for (const { hue, leastLuminance, corners } of read<{ colours: Box[] }>('fluorescentColours.json').colours) {
  const mean = (axis: 0 | 1): number => corners.reduce((sum, corner) => sum + corner[axis], 0) / corners.length;
  const middle = [mean(0), mean(1)] as const;
  const band = Math.max(...linearOfXyY(middle, leastLuminance));
  const parts = corners.map((corner) => linearOfXyY(corner, 1)).map(([red, green]) => green / red);
  console.log(
    `${hue}: objects reach ${mostOfObjects(hue).toFixed(2)}, the standard asks ${band.toFixed(2)}; green over red ${Math.min(...parts).toFixed(2)} to ${Math.max(...parts).toFixed(2)}`,
  );
}

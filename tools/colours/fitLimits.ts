/**
 * Prints where two colour words part best, for the limits in `src/core/measure/nameColour.ts`: red and orange by logistic
 * regression on hue, lightness and chroma, the others by the hue with the fewest words on the wrong side. The two lists
 * weigh the same, and so do the two words in each. Run: `npx tsx tools/colours/fitLimits.ts`
 */
import { readFileSync } from 'node:fs';
import { labOfRgb, lchOfLab } from '../../src/core/numeric/colour.js';

interface Word {
  readonly list: string;
  readonly name: string;
  readonly isSecond: boolean;
  readonly lightness: number;
  readonly chroma: number;
  readonly hueDeg: number;
}

interface Range {
  readonly fromDeg: number;
  readonly toDeg: number;
  /** Below it a word says more about pale or dark than about hue. */
  readonly leastChroma: number;
}

const lists = (
  JSON.parse(readFileSync(new URL('../../src/core/measure/fixtures/colourWords.json', import.meta.url), 'utf8')) as {
    /** Of each list, from name to hexadecimal sRGB. */
    readonly colours: Readonly<Record<string, Readonly<Record<string, string>>>>;
  }
).colours;
/** Green of the second list parts at another hue than people's, and is left out. */
const isFitted = (list: string, name: string): boolean => list === 'xkcd' || !name.endsWith('green');
const colours = Object.entries(lists).flatMap(([list, hexes]) =>
  Object.entries(hexes).flatMap(([name, hex]) => (isFitted(list, name) ? [{ list, name, hex }] : [])),
);

function wordsOf(first: readonly string[], second: readonly string[], range: Range): Word[] {
  return colours.flatMap(({ list, name, hex }) => {
    const last = name.split(' ').at(-1)!;
    const [red, green, blue] = [0, 2, 4].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
    const [lightness, chroma, hueDeg] = lchOfLab(labOfRgb(red!, green!, blue!));
    const isIn = hueDeg >= range.fromDeg && hueDeg <= range.toDeg && chroma >= range.leastChroma;
    const isMeant = first.includes(last) || second.includes(last);
    return isIn && isMeant ? [{ list, name, isSecond: second.includes(last), lightness, chroma, hueDeg }] : [];
  });
}

function weigher(words: readonly Word[]): (word: Word) => number {
  const counts = new Map<string, number>();
  const kindOf = ({ list, isSecond }: Word) => `${list} ${isSecond}`;
  for (const word of words) counts.set(kindOf(word), (counts.get(kindOf(word)) ?? 0) + 1);
  return (word) => 1 / counts.get(kindOf(word))!;
}

/** First and last of the half degrees that leave the least weight on the wrong side. */
function bestHue(words: readonly Word[], { fromDeg, toDeg }: Range): readonly [number, number] {
  const weightOf = weigher(words);
  const limits = Array.from({ length: 2 * (toDeg - fromDeg) + 1 }, (_, step) => fromDeg + step / 2);
  const costs = limits.map((limit) =>
    words.reduce((sum, word) => sum + (word.hueDeg > limit === word.isSecond ? 0 : weightOf(word)), 0),
  );
  const least = Math.min(...costs) + 1e-9;
  const best = limits.filter((_, index) => costs[index]! <= least);
  return [best[0]!, best.at(-1)!];
}

const STEPS = 60_000;
const RATE = 0.3;
/** Keeps the weights finite where the words part cleanly. */
const SHRINKAGE = 0.02;

const chanceOf = (weights: readonly number[], facts: readonly number[]): number =>
  1 / (1 + Math.exp(-facts.reduce((sum, fact, index) => sum + fact * weights[index]!, 0)));

/** Weights of 1, hue from 42° in steps of 5, lightness from 50 in steps of 10, chroma from 70 in steps of 20. */
function logisticWeights(words: readonly Word[]): readonly number[] {
  const weightOf = weigher(words);
  const rows = words.map((word) => ({
    facts: [1, (word.hueDeg - 42) / 5, (word.lightness - 50) / 10, (word.chroma - 70) / 20],
    isSecond: word.isSecond ? 1 : 0,
    weight: weightOf(word),
  }));
  let weights = [0, 0, 0, 0];
  for (let step = 0; step < STEPS; step += 1) {
    const slopes = [0, 0, 0, 0];
    for (const { facts, isSecond, weight } of rows) {
      const error = weight * (isSecond - chanceOf(weights, facts));
      facts.forEach((fact, index) => {
        slopes[index]! += error * fact;
      });
    }
    weights = weights.map((value, index) => value + RATE * (slopes[index]! - (index > 0 ? SHRINKAGE * value : 0)));
  }
  return weights;
}

function printHue(title: string, first: readonly string[], second: readonly string[], range: Range): void {
  const words = wordsOf(first, second, range);
  const [from, to] = bestHue(words, range);
  console.log(`${title}: ${from}–${to}° (${words.length} words)`);
}

const reds = wordsOf(['red'], ['orange'], { fromDeg: 15, toDeg: 75, leastChroma: 40 });
const [constant, hue, lightness, chroma] = logisticWeights(reds) as [number, number, number, number];
const part = (value: number, unit: number): string => (-(value / unit) / (hue / 5)).toFixed(2);
console.log(
  `red to orange: ${(42 - (5 * constant) / hue).toFixed(1)}° + ${part(chroma, 20)} (chroma − 70) + ${part(lightness, 10)} (lightness − 50) (${reds.length} words)`,
);
printHue('orange to yellow', ['orange'], ['yellow'], { fromDeg: 50, toDeg: 105, leastChroma: 55 });
printHue('teal to blue', ['teal', 'turquoise', 'cyan'], ['blue'], { fromDeg: 150, toDeg: 290, leastChroma: 15 });
printHue('lime to green', ['lime'], ['green'], { fromDeg: 80, toDeg: 150, leastChroma: 40 });

import { describe, expect, it } from 'vitest';
import type { ColourName, ColourShare } from '../../measure/types.js';
import { liveryWords, mainColoursOf, poolColours } from './livery.js';

const shares = (...colours: readonly (readonly [ColourName, number])[]): readonly ColourShare[] =>
  colours.map(([name, share]) => ({ name, share, lab: [50, 0, 0] }));

describe('a livery in words (MS19)', () => {
  it('names one colour, or two where the second covers a good part of what the first does', () => {
    expect(liveryWords(shares(['red', 0.8], ['white', 0.2]), [])).toBe('red');
    expect(liveryWords(shares(['red', 0.6], ['white', 0.4]), shares(['black', 1]))).toBe('red / white, black leathers');
  });

  it('names a helmet only where one colour covers most of it', () => {
    const withHelmet = (helmet: readonly ColourShare[]) =>
      liveryWords(shares(['red', 1]), shares(['black', 1]), helmet);
    expect(withHelmet(shares(['white', 0.7], ['blue', 0.3]))).toBe('red, black leathers, white helmet');
    expect(withHelmet(shares(['white', 0.55], ['blue', 0.45]))).toBe('red, black leathers');
  });

  it('is multicoloured where three would have to be said', () => {
    const bike = shares(['red', 0.4], ['white', 0.35], ['blue', 0.25]);
    expect(liveryWords(bike, [])).toBe('multicoloured (red / white)');
    expect(mainColoursOf(bike)).toEqual(['red', 'white']);
  });

  it('does not mention a neighbour beside a colour, which is the same paint in another light', () => {
    expect(liveryWords(shares(['lime', 0.5], ['green', 0.4], ['black', 0.1]), [])).toBe('lime');
    expect(liveryWords(shares(['navy', 0.4], ['blue', 0.35], ['white', 0.25]), [])).toBe('navy / white');
  });

  it('says so where no colour is known', () => {
    expect(liveryWords([], [])).toBe('colours not known');
  });

  it('pools sightings, those without a colour left out', () => {
    const pooled = poolColours([shares(['red', 1]), [], shares(['red', 0.5], ['black', 0.5])]);
    expect(pooled.map(({ name, share }) => [name, share])).toEqual([
      ['red', 0.75],
      ['black', 0.25],
    ]);
  });
});

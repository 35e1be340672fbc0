import { describe, expect, it } from 'vitest';
import type { BesideWhite, ColourName, ColourShare } from '../../measure/types.js';
import { fluorescentHueOn, type SeenInSession, whitesOf, withFluorescent } from './fluorescentPaint.js';
import { liveryWords } from './livery.js';

const beside = (more: Partial<BesideWhite> = {}): BesideWhite => ({
  on: 'bike',
  hue: 'orange',
  pairs: 200,
  ratio: 2.1,
  white: 0.75,
  ...more,
});
const seen = (besideWhite: readonly BesideWhite[], session = 0): SeenInSession => ({
  subject: { besideWhite, whiteLevel: 0.75 },
  session,
});
const WHITES = new Map([[0, 0.75]]);

describe('fluorescent paint of a rider (MS22)', () => {
  it('is said where two pictures say so', () => {
    expect(fluorescentHueOn('bike', [seen([beside()]), seen([beside()])], WHITES)).toBe('orange');
    expect(fluorescentHueOn('rider', [seen([beside()]), seen([beside()])], WHITES)).toBeNull();
  });

  it('is not said after one picture, nor where a quarter or more of them deny it', () => {
    const [yes, no] = [seen([beside()]), seen([beside({ ratio: 1.1 })])];
    expect(fluorescentHueOn('bike', [yes, seen([])], WHITES)).toBeNull();
    expect(fluorescentHueOn('bike', [yes, yes, no], WHITES)).toBeNull();
    expect(fluorescentHueOn('bike', [yes, yes, yes, yes, no], WHITES)).toBe('orange');
  });

  it('is told of each hue by itself: an ordinary red stripe denies no fluorescent orange, and adds nothing to it', () => {
    const striped = seen([beside(), beside({ hue: 'red', ratio: 0.7, pairs: 900 })]);
    expect(fluorescentHueOn('bike', [striped, striped], WHITES)).toBe('orange');
    expect(fluorescentHueOn('bike', [seen([beside(), beside({ hue: 'red' })])], WHITES)).toBeNull();
  });

  it('is not said beside what is darker than the session’s white, nor where no white is known', () => {
    const silver = seen([beside({ white: 0.55 })]);
    expect(fluorescentHueOn('bike', [silver, silver], WHITES)).toBeNull();
    expect(fluorescentHueOn('bike', [seen([beside()], 1), seen([beside()], 1)], WHITES)).toBeNull();
  });

  it('a session’s white is known from eight bikes on, and is that of its brighter quarter', () => {
    const bikes = (count: number) =>
      Array.from({ length: count }, (_, i) => ({ subject: { whiteLevel: i / 10 }, session: 3 }));
    expect(whitesOf(bikes(7)).size).toBe(0);
    expect(whitesOf(bikes(8)).get(3)).toBe(0.6);
    expect(whitesOf([{ subject: {}, session: 3 }]).size).toBe(0);
  });
});

describe('a livery with fluorescent paint (MS22)', () => {
  const shares = (...colours: readonly (readonly [ColourName, number])[]): readonly ColourShare[] =>
    colours.map(([name, share]) => ({ name, share, lab: [50, 0, 0] }));

  it('is called so, and what it was called before is not said beside it', () => {
    const bike = withFluorescent(shares(['lime', 0.4], ['black', 0.35], ['yellow', 0.25]), 'yellow');
    expect(bike.map(({ name, share }) => [name, share])).toEqual([
      ['fluorescent yellow', 0.65],
      ['black', 0.35],
    ]);
    expect(liveryWords(bike, [])).toBe('fluorescent yellow / black');
  });

  it('stays as it is where nobody is sure, or where little of such a colour was seen', () => {
    const colours = shares(['red', 0.7], ['white', 0.3]);
    expect(withFluorescent(colours, null)).toBe(colours);
    expect(withFluorescent(colours, 'yellow')).toBe(colours);
    const trimmed = shares(['lime', 0.85], ['orange', 0.15]);
    expect(withFluorescent(trimmed, 'orange')).toBe(trimmed);
  });
});

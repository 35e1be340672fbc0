import { describe, expect, it } from 'vitest';
import { focusLean } from './focusLean.js';
import { type BikeSpec, COMMANDS, judgedBike } from './testing.js';

const OUT_OF_FOCUS = { alongX: 0.15, alongY: 0.15, alongDown: 0.15, alongUp: 0.15, overall: 0.15 };
const SMEARED = { alongX: 0.05, alongY: 0.45, alongDown: 0.15, alongUp: 0.15, overall: 0.1 };
const EVEN = { before: 0.4, behind: 0.4 };
const FRONT = { before: 0.5, behind: 0.2 };
const BACK = { before: 0.2, behind: 0.5 };

const passes = (count: number, from: number, one: Omit<BikeSpec, 'pass'>): readonly BikeSpec[] =>
  Array.from({ length: count }, (_, at) => ({ ...one, pass: from + at }));
const lean = (specs: readonly BikeSpec[]) => focusLean(specs.map(judgedBike));
const soft = (ground: BikeSpec['ground'], sharpness: BikeSpec['sharpness'] = OUT_OF_FOCUS) => ({
  isSharp: false,
  sharpness: sharpness!,
  ground: ground!,
});
const SHARP = passes(6, 0, { ground: EVEN });

describe('where missed focus falls', () => {
  it('PL815: mostly before the bike, mostly behind it, or to either side; with bike and ground as evidence', () => {
    const [front] = lean([...SHARP, ...passes(9, 10, soft(FRONT)), ...passes(1, 30, soft(BACK))]);
    expect(front).toMatchObject({ falls: 'before', passes: 10, before: 9, lens: 'Long' });
    expect(front!.sentence).toContain('in front of the bike');
    expect(front!.evidence).toHaveLength(6);
    const [, top, , height] = front!.evidence[0]!.look!;
    expect(top + height).toBeGreaterThan(0.7);
    expect(lean([...SHARP, ...passes(9, 10, soft(BACK))])[0]).toMatchObject({ falls: 'behind', before: 0 });
    const both = [...SHARP, ...passes(5, 10, soft(FRONT)), ...passes(5, 30, soft(BACK))];
    expect(lean(both)[0]).toMatchObject({ falls: 'either' });
    for (const { sentence } of [front!, ...lean(both)]) expect(sentence).not.toMatch(COMMANDS);
  });

  it('PL815: ground that is always the sharper before the bike there says nothing', () => {
    const sharpThere = passes(6, 0, { ground: FRONT });
    expect(lean([...sharpThere, ...passes(9, 10, soft({ before: 0.4, behind: 0.2 }))])[0]).toMatchObject({
      falls: 'behind',
    });
  });

  it('PL816: fewer than eight passes, a spot without sharp ones, and what is smeared by movement get no line', () => {
    expect(lean([...SHARP, ...passes(7, 10, soft(FRONT))])).toEqual([]);
    expect(lean([...passes(4, 0, { ground: EVEN }), ...passes(9, 10, soft(FRONT))])).toEqual([]);
    expect(lean([...SHARP, ...passes(9, 10, soft(FRONT, SMEARED))])).toEqual([]);
  });

  it('PL816: a burst has one voice', () => {
    const burst = Array.from({ length: 12 }, () => ({ ...soft(FRONT), pass: 10 }));
    expect(lean([...SHARP, ...burst])).toEqual([]);
  });
});

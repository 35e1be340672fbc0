import { describe, expect, it } from 'vitest';
import type { DayView } from '../../server/types.js';
import { arrangedWords } from './arrangedWords.js';

const words = (arrangedInMs: number, measured: number, unmeasurable = 0): string =>
  arrangedWords({ arrangedInMs, counts: { measured, unmeasurable } as DayView['counts'] });

describe('the foot', () => {
  it('tells how long arranging took, and never none at all', () => {
    expect(words(1240, 7412)).toBe('Arranged in 1.2 s from 7,412 measured frames');
    expect(words(31, 304, 1)).toBe('Arranged in under 0.1 s from 304 measured frames; 1 could not be measured');
    expect(words(0, 1)).toBe('Arranged in under 0.1 s from 1 measured frame');
  });

  it('says so where there is nothing to arrange yet', () => {
    expect(words(0, 0)).toBe('No frame is measured yet');
    expect(words(0, 0, 2)).toBe('No frame is measured yet; 2 could not be measured');
  });
});

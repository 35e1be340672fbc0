import { describe, expect, it } from 'vitest';
import { decimalNumber, wholeNumber } from './numbers.js';

describe('a number as typed', () => {
  it.each(['', ' 7', 'abc', '1e3', '0x10', '-1', '1.5', 'NaN', 'Infinity', '101'])(
    'of whole ones from 0 to 100, “%s” is none',
    (text) => {
      expect(wholeNumber(text, 0, 100)).toBeNull();
    },
  );

  it('is taken at both ends of what is asked for', () => {
    expect([wholeNumber('0', 0, 100), wholeNumber('100', 0, 100)]).toEqual([0, 100]);
  });

  it('may have a sign and a fraction where that is asked for, and nothing else', () => {
    expect(['-7', '2.5', '0'].map(decimalNumber)).toEqual([-7, 2.5, 0]);
    expect(['', ' ', '1e9', '--7', '.5', 'Infinity', undefined].map(decimalNumber)).toEqual(Array(7).fill(null));
  });
});

import { describe, expect, it } from 'vitest';
import { bytesInWords, counted, onOneLine, secondsInWords } from './words.js';

describe('words of the terminal', () => {
  it('never say sixty seconds or sixty minutes', () => {
    expect(secondsInWords(59.2)).toBe('1 min 00 s');
    expect(secondsInWords(119.5)).toBe('2 min 00 s');
    expect(secondsInWords(3599.5)).toBe('1 h 00 min');
    expect(secondsInWords(7199)).toBe('2 h 00 min');
    expect(secondsInWords(12)).toBe('12 s');
  });

  it('step to the next unit when rounding reaches it', () => {
    expect(bytesInWords(999_600)).toBe('1 MB');
    expect(bytesInWords(999_600_000)).toBe('1.0 GB');
    expect(bytesInWords(12_000)).toBe('12 kB');
    expect(bytesInWords(40)).toBe('40 bytes');
  });

  it('count one and many, and keep a name on one line', () => {
    expect([counted(1, 'frame'), counted(0, 'pass', 'passes')]).toEqual(['1 frame', '0 passes']);
    expect(onOneLine('a\nb')).toBe('a\ufffdb');
  });
});

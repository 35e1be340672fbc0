import { describe, expect, it } from 'vitest';
import { timeReasons } from './words.js';

describe('how long choosing takes, in words', () => {
  it('CS11: the range is between two times, or is said not to be worth a minute', () => {
    const guess = { kind: 'guessed', seconds: 70, answers: 8 } as const;
    expect(timeReasons({ ...guess, from: 65, to: 190 })).toEqual([
      'between 1 and 3 min nine times in ten, by your last eight sets',
    ]);
    expect(timeReasons({ ...guess, from: 50, to: 80 })).toEqual([
      'hardly a minute more or less nine times in ten, by your last eight sets',
    ]);
  });
});

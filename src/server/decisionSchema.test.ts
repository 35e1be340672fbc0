import { describe, expect, it } from 'vitest';
import { parseGesture } from './decisionSchema.js';

const GESTURE = '01900000-0000-7000-8000-000000000001';
const FILE = 'a'.repeat(32);
const parse = (decision: object) => parseGesture({ gesture: GESTURE, decisions: [decision] });
const sentenceOf = (decision: object): string => {
  const parsed = parse(decision);
  return parsed.kind === 'wrong' ? parsed.sentence : 'parsed';
};

describe('what a screen may say of choosing', () => {
  it('CH5: quotas are whole counts within reason; what is not is refused in a sentence with the place', () => {
    expect(parse({ kind: 'choose-rules', mostPerRider: 20, leastPerRider: 5 }).kind).toBe('parsed');
    expect(parse({ kind: 'choose-rules' }).kind).toBe('parsed');
    expect(sentenceOf({ kind: 'choose-rules', mostPerSpot: 0 })).toContain(
      'decisions[0].mostPerSpot: expected 1 or more',
    );
    expect(sentenceOf({ kind: 'choose-rules', mostInAll: 1e6 })).toContain('expected 100000 or fewer');
    expect(sentenceOf({ kind: 'choose-rules', mostPerRider: 2.5 })).toContain('decisions[0].mostPerRider');
    expect(sentenceOf({ kind: 'choose-rules', mostPerRider: 2, leastPerRider: 3 })).toContain(
      'expected the least for a rider to be no more than the most',
    );
    expect(sentenceOf({ kind: 'choose-rules', sharpest: true })).toContain('Nothing was written down.');
  });

  it('CH24: a set gone through names a bike and files', () => {
    const of = { file: FILE, x: 0.5, y: 0.5 };
    expect(parse({ kind: 'gone-through', of, files: [FILE] }).kind).toBe('parsed');
    expect(parse({ kind: 'gone-through', of, files: [], unseen: true }).kind).toBe('parsed');
    expect(sentenceOf({ kind: 'gone-through', of, files: ['H1_0001.JPG'] })).toContain('expected 32 hex digits');
    expect(sentenceOf({ kind: 'gone-through', files: [FILE] })).toContain('decisions[0].of');
  });
});

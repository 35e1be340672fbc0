import { describe, expect, it } from 'vitest';
import type { GestureId } from '../../core/ids.js';
import type { QuestionView } from '../../server/types.js';
import { type Answered, heldAgainst, isAnswered } from './answered.js';

const question = (id: string): QuestionView => ({
  kind: 'contradiction',
  id,
  sentence: id,
  worth: 1,
  between: null,
});
const gesture = (name: string) => name as GestureId;
const two: Answered = {
  given: [
    { question: question('a'), gesture: gesture('1') },
    { question: question('b'), gesture: gesture('2') },
  ],
  over: [],
  back: null,
};

describe('questions answered on this screen', () => {
  it('DK145: stay answered while what was said stands', () => {
    const now = heldAgainst(two, new Set([gesture('1'), gesture('2'), gesture('3')]));
    expect(now).toBe(two);
    expect(isAnswered(now, 'a') && isAnswered(now, 'b')).toBe(true);
    expect(isAnswered(now, 'c')).toBe(false);
  });

  it('DK145: one that was refused or taken back is asked again, and is the one that stands there', () => {
    const now = heldAgainst(two, new Set([gesture('1')]));
    expect(now.back?.id).toBe('b');
    expect(isAnswered(now, 'b')).toBe(false);
    expect(isAnswered(now, 'a')).toBe(true);
  });

  it('DK156: one that stands again is answered again', () => {
    const all = new Set([gesture('1'), gesture('2')]);
    const now = heldAgainst(heldAgainst(two, new Set([gesture('1')])), all);
    expect(now.back).toBeNull();
    expect(isAnswered(now, 'a') && isAnswered(now, 'b')).toBe(true);
  });
});

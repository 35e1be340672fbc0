import { describe, expect, it } from 'vitest';
import type { FrameId } from '../../core/ids.js';
import { millisecondsOf } from '../../core/units.js';
import { clockAnswersOf, consequenceOf } from './clockAnswers.js';

const HOUR = millisecondsOf(3_600_000);
const NONE = millisecondsOf(0);
const FROM = { fromFrame: 'f'.repeat(32) as FrameId };
const asked = { sentence: 'Was body H2 …0412 slow by 60 min?', offsetMs: HOUR, standsByMs: NONE, frames: 47 };

describe('a question about a clock', () => {
  it('DK144: yes and no never mean the same, whatever is asked of the whole body or of a part', () => {
    for (const part of [{}, FROM])
      for (const [offsetMs, standsByMs] of [
        [HOUR, NONE],
        [HOUR, HOUR],
        [NONE, HOUR],
        [millisecondsOf(-60_000), HOUR],
      ] as const) {
        // Of a part that stands by it already nothing is asked.
        if (part === FROM && offsetMs === standsByMs) continue;
        if (part !== FROM && offsetMs === NONE) continue;
        const [yes, no] = clockAnswersOf({ ...asked, ...part, offsetMs, standsByMs });
        expect(yes!.offsetMs).toBe(offsetMs);
        expect(no!.offsetMs).not.toBe(offsetMs);
        expect(no!.words.charAt(0)).not.toBe(yes!.words.charAt(0));
      }
  });

  it('DK144: a part that was right: yes sets it right, no leaves it as wrong as the rest', () => {
    const answers = clockAnswersOf({ ...asked, ...FROM, offsetMs: NONE, standsByMs: HOUR });
    expect(answers.map(({ words, offsetMs }) => [words, offsetMs])).toEqual([
      ['Clock was right', 0],
      ['Still wrong, as before', HOUR],
    ]);
  });

  it('DK144: what follows says whether frames move', () => {
    const moved = { ...asked, standsByMs: HOUR };
    expect(consequenceOf(asked, HOUR)).toMatch(/^47 frames move/);
    expect(consequenceOf(asked, NONE)).toMatch(/^47 frames stay where the camera put them/);
    expect(consequenceOf(moved, HOUR)).toMatch(/^47 frames stay put right/);
    expect(consequenceOf({ ...moved, frames: 1 }, NONE)).toMatch(/^1 frame goes back/);
  });
});

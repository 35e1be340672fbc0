/** Yes and no to a question about a clock, and what follows from each. */
import { type Milliseconds, millisecondsOf } from '../../core/units.js';
import type { QuestionView } from '../../server/types.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';

const WORDS = SHEET_WORDS.questions;

type ClockQuestion = Pick<
  Extract<QuestionView, { kind: 'clock' }>,
  'sentence' | 'offsetMs' | 'standsByMs' | 'frames' | 'fromFrame' | 'toFrame'
>;

export interface ClockAnswer {
  readonly words: string;
  readonly offsetMs: Milliseconds;
  readonly said: string;
}

/**
 * Yes and no. Of a whole body "no" means that it was right; of a part of it, that it stands as it does now: right, or
 * as wrong as the rest, for which "right" may be the very thing that is asked.
 */
export function clockAnswersOf({
  offsetMs,
  standsByMs,
  sentence,
  fromFrame,
  toFrame,
}: ClockQuestion): readonly ClockAnswer[] {
  const isPart = fromFrame !== undefined || toFrame !== undefined;
  const otherMs = isPart ? standsByMs : millisecondsOf(0);
  const asked = sentence.replace(/^Was /, '').replace(/\?$/, '');
  const yes =
    offsetMs === 0
      ? { words: WORDS.clockWasRight, said: asked }
      : { words: WORDS.setRight, said: `${asked}: set right` };
  const no =
    otherMs === 0
      ? { words: WORDS.clockWasRight, said: 'The clock was right' }
      : offsetMs === 0
        ? { words: WORDS.stillWrong, said: 'The clock was still wrong, as before' }
        : { words: WORDS.clockStays, said: 'The clock stays as it was set' };
  return [
    { ...yes, offsetMs },
    { ...no, offsetMs: otherMs },
  ];
}

/** What follows for the frames: they move only where they do not stand by that already. */
export function consequenceOf(
  { frames, standsByMs }: Pick<ClockQuestion, 'frames' | 'standsByMs'>,
  offsetMs: Milliseconds,
): string {
  const [counted, go, stay, move, it] =
    frames === 1
      ? ['1 frame', 'goes', 'stays', 'moves', 'it']
      : [`${frames.toLocaleString('en-GB')} frames`, 'go', 'stay', 'move', 'them'];
  const isMoved = offsetMs !== standsByMs;
  if (offsetMs === 0)
    return isMoved
      ? `${counted} ${go} back to where the camera put ${it}.`
      : `${counted} ${stay} where the camera put ${it}, by your word.`;
  return isMoved
    ? `${counted} ${move} on the day line. What the camera wrote is kept beside it.`
    : `${counted} ${stay} put right, by your word.`;
}

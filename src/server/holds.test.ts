import { describe, expect, it } from 'vitest';
import type { Session } from '../core/arrange/types.js';
import { holdOf, spokenHold } from './views/holds.js';
import type { Known } from './views/known.js';

const minutes = (count: number): number => count * 60_000;

/** A session of frames at these minutes, in a slot of twenty. */
function sessionWith(frameMinutes: readonly number[], hasSlot = true): [Known, Session] {
  const walls = new Map(frameMinutes.map((minute, i) => [`f${i}`, { wall: minutes(minute) }]));
  const slots = [{ name: 'I1', start: 0, end: minutes(20) }];
  const known = { state: { timetable: hasSlot ? { slots } : null }, exposureById: walls } as unknown as Known;
  const session = {
    slot: 'I1',
    start: minutes(frameMinutes[0]!),
    end: minutes(frameMinutes.at(-1)!),
    frames: [...walls.keys()],
  };
  return [known, session as unknown as Session];
}

describe('a held session', () => {
  it('DK64: a gap in a session that ran on is told as a guess, with its reasons', () => {
    const hold = holdOf(...sessionWith([0, 2, 4, 14, 20, 26]));
    expect(hold).toMatchObject({ from: minutes(4), to: minutes(14), beyondMs: minutes(6) });
    expect(spokenHold(hold!)).toEqual({
      voice: 'pencilled',
      text: 'held from 00:04 to 00:14',
      confidence: 0.6,
      reasons: ['no frame from any body for 10 min', 'the session was 6 min longer than its 20 min'],
    });
  });

  it('DK64: a walk in a session of its planned length is no hold, nor is any gap where no timetable is said', () => {
    expect(holdOf(...sessionWith([0, 2, 4, 14, 20]))).toBeNull();
    expect(holdOf(...sessionWith([0, 2, 4, 14, 26], false))).toBeNull();
    expect(holdOf(...sessionWith([0, 5, 10, 15, 20, 26]))).not.toBeNull();
    expect(holdOf(...sessionWith([0, 5, 10, 15, 20, 25]))).toBeNull();
  });
});

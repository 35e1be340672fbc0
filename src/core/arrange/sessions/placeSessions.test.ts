/** Sliding days with red flags: each session against what the simulated day (`demo/simulated-day`) says it was. */
import { describe, expect, it } from 'vitest';
import {
  type DayOptions,
  ORDINARY_DAY,
  type SyntheticDay,
  syntheticDay,
} from '../../../../demo/simulated-day/index.js';
import { placeSessions } from './placeSessions.js';

const groups = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 8 }));
const dividers = { ...ORDINARY_DAY.dividers, forgotten: ['F1', 'N5'], doubled: ['N2', 'F3', 'I5'] };
const SEEDS = [1, 2, 3, 5];

const slidingDay = (seed: number, changes: Partial<DayOptions>): SyntheticDay =>
  syntheticDay({ slipRule: 'sliding', groups, dividers, ...changes, seed });

/** Frames with a bike that lie in another session than they were taken in, by name. */
function misplaced({ input, truth, timetable }: SyntheticDay): { readonly wrong: string[]; readonly frames: number } {
  const frames = [...truth.exposures].sort((a, b) => a.wall - b.wall || (a.frameId < b.frameId ? -1 : 1));
  const { sessions, sessionOf } = placeSessions({
    frameIds: frames.map(({ frameId }) => frameId),
    walls: frames.map(({ wall }) => wall),
    roles: frames.map(({ frameId, session }) => {
      const pixels = input.pixels.get(frameId);
      if (session === null) return 'divider';
      return pixels?.kind === 'measured' && pixels.subjects.length > 0 ? 'bike' : 'scenery';
    }),
    timetable,
    words: { boundaries: [], groups: [] },
  });
  const wrong = frames.flatMap(({ session }, i) => {
    const found = sessions[sessionOf[i]!]?.name;
    return session === null || found === session ? [] : [`${session} as ${found}`];
  });
  return { wrong: [...new Set(wrong)], frames: frames.length };
}

describe('a session stopped by a red flag in a sliding timetable', () => {
  it.each([
    ['a novice session for ten minutes', { slot: 'N1', afterMinutes: 9, minutes: 10 }, 0],
    ['a session for twelve minutes', { slot: 'I2', afterMinutes: 8, minutes: 12 }, 0],
    ['a session for twelve minutes on a day already late', { slot: 'I2', afterMinutes: 8, minutes: 12 }, 9],
    ['an afternoon session for twenty minutes', { slot: 'I4', afterMinutes: 4, minutes: 20 }, 0],
  ])('AR6: stays one session, and moves those behind it: %s', (_, flag, heldMinutes) => {
    let frames = 0;
    for (const seed of SEEDS) {
      const holds = heldMinutes === 0 ? [] : [{ slot: 'N2', minutes: heldMinutes }];
      const found = misplaced(slidingDay(seed, { holds, redFlags: [{ ...flag, resumes: true }] }));
      frames += found.frames;
      expect({ seed, wrong: found.wrong }).toEqual({ seed, wrong: [] });
    }
    expect(frames).toBeGreaterThan(SEEDS.length * 500);
  });

  it('AR6: gives every session its group where the divider behind the stop is missing as well', () => {
    for (const seed of SEEDS) {
      const day = slidingDay(seed, {
        dividers: { ...dividers, forgotten: ['I3'] },
        redFlags: [{ slot: 'I2', afterMinutes: 8, minutes: 12, resumes: true }],
      });
      expect({ seed, wrong: misplaced(day).wrong }).toEqual({ seed, wrong: [] });
    }
  });
});

import { describe, expect, it } from 'vitest';
import type { DayState } from '../host/day/types.js';
import { dayLines } from './printDay.js';

const exposure = (frameId: string, path: string, wall: number | null) => ({ frameId, path, wall, fill: 'fill-1' });

/** Only what is printed; the rest of a state has tests of its own. */
const stateOf = (arrangement: object, pixels: readonly string[] = []): DayState =>
  ({
    about: { name: 'Ebbstone' },
    arrangement: { exposures: [], sessions: [], riders: [], clocks: [], questions: [], ...arrangement },
    coverage: { thin: [], riders: [] },
    fills: [{ id: 'fill-1', folder: 'CARD_A-12345678' }],
    toMeasure: { left: 0, secondsLeft: 0 },
    pixels: new Map(pixels.map((frame) => [frame, { kind: 'unmeasurable', frameId: frame }])),
  }) as unknown as DayState;

describe('the day in a terminal', () => {
  it('names the frames without a time and those that could not be looked at, by card', () => {
    const exposures = [exposure('a', 'DCIM/1/A\n.JPG', null), exposure('b', 'DCIM/1/B.JPG', 0)];
    const lines = dayLines(stateOf({ exposures }, ['b']));
    expect(lines).toContain(
      '1 frame without a usable capture time, kept but in no session: CARD_A-12345678/DCIM/1/A\ufffd.JPG',
    );
    expect(lines).toContain('1 frame that could not be looked at, kept as on the card: CARD_A-12345678/DCIM/1/B.JPG');
  });

  it('says nothing of such frames where there are none', () => {
    expect(dayLines(stateOf({ exposures: [exposure('a', 'A.JPG', 0)] })).join('\n')).not.toContain('kept');
  });

  it('says why nobody is shown instead of a title with nothing under it', () => {
    const exposures = [exposure('a', 'A.JPG', 0), exposure('b', 'B.JPG', 0)];
    const lines = dayLines(stateOf({ exposures }));
    expect(lines).toContain('No bike was seen in any of these 2 frames, so there is no rider.');
    expect(lines).not.toContain('Riders');
  });

  it('marks a guessed group, and calls no guess what is not known', () => {
    const session = { name: '1', start: 0, end: 60_000, frames: ['a'] };
    const source = { kind: 'guessed', confidence: 0.8 };
    const sessions = [
      { ...session, group: 'Novices', groupSource: source },
      { ...session, group: null, groupSource: { ...source, confidence: 0 } },
    ];
    const [known, unknown] = dayLines(stateOf({ sessions })).filter((line) => line.includes('–'));
    expect(known).toMatch(/Novices \(guess, 80 %\)$/);
    expect(unknown).toMatch(/group not known$/);
  });
});

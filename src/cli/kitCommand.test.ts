import { describe, expect, it } from 'vitest';
import type { BodyKey, FrameId } from '../core/ids.js';
import { kitLines } from './kitCommand.js';

describe('what the kit did, in a terminal', () => {
  it('PL808: a spot is told with body, place, size and how many frames show it; none, and what cannot be told, are told apart', () => {
    const spot = {
      x: 0.25,
      y: 0.5,
      acrossPx: 24,
      darker: 0.071,
      sigmas: 12,
      frames: ['a', 'b', 'c', 'd', 'e'] as FrameId[],
      judged: 7,
    };
    const lines = kitLines(
      [
        { body: 'Maker|M1|7' as BodyKey, found: { kind: 'looked', frames: 9, spots: [spot] } },
        { body: 'Maker|M2|' as BodyKey, found: { kind: 'looked', frames: 9, spots: [] } },
        { body: 'Maker|M3|' as BodyKey, found: { kind: 'cannot-tell', reason: 'Too few.' } },
      ],
      { howLow: [], sharpness: [], clipped: [], blocked: [], focus: [], shimmer: [], clocks: [] },
      [],
      [],
    );
    expect(lines).toEqual([
      'Dust',
      '  Maker M1 7: a spot about 24 px across, 7 % darker, 25 % from the left and 50 % down the picture as recorded; seen in 5 of 7 frames.',
      '  Maker M2: none found in 9 frames.',
      '  Maker M3: cannot tell. Too few.',
    ]);
  });

  it('a meeting without a frame says so, and no title stands over nothing', () => {
    const nothing = { howLow: [], sharpness: [], clipped: [], blocked: [], focus: [], shimmer: [], clocks: [] };
    expect(kitLines([], nothing, [], [])).toEqual(['No frame was brought in yet: of the kit nothing is known']);
  });
});

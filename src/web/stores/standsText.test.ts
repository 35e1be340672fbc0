import { describe, expect, it } from 'vitest';
import type { SpotId } from '../../core/ids.js';
import { readLap, readStands } from './standsText.js';

const DATE = '2026-09-19';
const at = (clock: string) => Date.parse(`${DATE}T${clock}:00Z`);
const SPOTS = [
  { id: 'beacon' as SpotId, number: 1, name: 'Beacon' },
  { id: 'gannet' as SpotId, number: 2, name: 'Gannet' },
];

describe('stands and laps as they are written', () => {
  it('DK84: stands are read by number or by name, and a name not used before is a new spot', () => {
    const stands = [
      { spot: 'beacon', from: at('08:56'), to: at('10:00') },
      { spot: 'gannet', from: at('10:06'), to: at('11:00') },
    ];
    expect(readStands('1 08:56-10:00\n2 Gannet 10:06-11:00', DATE, SPOTS)).toEqual({
      kind: 'read',
      value: { stands, spots: null },
    });
    expect(readStands('Old Strand 09:00-10:00\nold strand 13:00-13:30', DATE, SPOTS)).toEqual({
      kind: 'read',
      value: {
        stands: [
          { spot: 'old-strand', from: at('09:00'), to: at('10:00') },
          { spot: 'old-strand', from: at('13:00'), to: at('13:30') },
        ],
        spots: [...SPOTS, { id: 'old-strand', number: 3, name: 'Old Strand' }],
      },
    });
  });

  it('DK84: a number that no spot has is not taken for a name', () => {
    expect(readStands('7 09:00-10:00', DATE, SPOTS)).toEqual({
      kind: 'wrong',
      sentences: ['Line 1, “7 09:00-10:00”: expected the name of a spot before its times, as Beacon.'],
    });
  });

  it('DK85: a lap is minutes and seconds; anything else is answered with an example', () => {
    expect(readLap('1:35.4')).toEqual({ kind: 'read', value: 95_400 });
    expect(readLap(' ')).toEqual({ kind: 'nothing' });
    for (const wrong of ['95', '1:75', '0:04', 'fast'])
      expect(readLap(wrong)).toEqual({ kind: 'wrong', sentences: [expect.stringContaining('as 1:35.0')] });
  });
});

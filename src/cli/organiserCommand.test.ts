/** Rules OG4, OG6, OG13, OG14, OG24 of docs/rules/organiser.md, as they are typed. */
import { describe, expect, it } from 'vitest';
import { type AgreedTyped, agreedSaid } from './organiserWords.js';

const known = {
  lastDay: '2026-09-20',
  spots: [
    { id: 'beacon', name: 'Beacon' },
    { id: 'gannet-2', name: 'Gannet' },
  ],
};
const said = (typed: AgreedTyped) => agreedSaid(typed, known);

describe('what was agreed with the organiser, as typed', () => {
  it('OG14: a time is of the last day, unless a day stands before it; or it is minutes after the flag', () => {
    expect(said({ due: '17:30' })).toEqual({ due: '2026-09-20T17:30' });
    expect(said({ due: '2026-09-21T9:05' })).toEqual({ due: '2026-09-21T09:05' });
    expect(said({ due: '+60' })).toEqual({ dueMinutesAfterFlag: 60 });
    expect(() => said({ due: 'soon' })).toThrow(
      'Expected when the pictures are due, as 17:30, 2026-09-21T09:00 or +60 (minutes after the last flag), but got soon.',
    );
    expect(() => said({ due: '25:00' })).toThrow('Expected a time of day, as 10:42, but got 25:00.');
  });

  it('OG24: their part is a share of gross or net, or a sum with its currency', () => {
    expect(said({ commission: '15%' })).toEqual({ commission: { kind: 'percent', basisPoints: 1500, of: 'gross' } });
    expect(said({ commission: '12.5 % net' })).toEqual({
      commission: { kind: 'percent', basisPoints: 1250, of: 'net' },
    });
    expect(said({ commission: '200.00 EUR' })).toEqual({ commission: { kind: 'fixed', amount: 20_000 } });
    expect(said({ commission: '5000 JPY' })).toEqual({ commission: { kind: 'fixed', amount: 5000 } });
    for (const wrong of ['101%', '15', 'half', '200.001 EUR'])
      expect(() => said({ commission: wrong })).toThrow(
        `Expected the organiser's part as 15%, 15% net or 200.00 EUR but got ${wrong}.`,
      );
  });

  it('OG3: spots go by name or id, and an unknown one is said with those there are', () => {
    expect(said({ boards: ['gannet', 'BEACON'] })).toEqual({ boards: ['gannet-2', 'beacon'] });
    expect(() => said({ boards: ['Strand'] })).toThrow(
      'Expected a spot of this meeting (Beacon, Gannet) but got Strand.',
    );
  });

  it('OG6: a number of pictures is whole, from 1', () => {
    expect(said({ agreedPictures: '20' })).toEqual({ pictures: 20 });
    expect(() => said({ agreedPictures: '0' })).toThrow('Expected a number of pictures from 1 to 1000 but got 0.');
    expect(said({})).toBeNull();
  });
});

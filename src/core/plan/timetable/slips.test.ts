import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type WallMs, wallMsOf } from '../../units.js';
import type { SlipRule, Timetable, TimetableSlot } from '../types.js';
import {
  addGroup,
  applySlips,
  LEAST_LUNCH_MS,
  LEAST_SESSION_MS,
  lunchOf,
  slipOn,
  slotsOfDay,
  timetableInForce,
} from './index.js';
import type { Slip } from './types.js';

const DAY = '2026-09-19';
const MINUTE = 60_000;
const at = (clock: string): WallMs => wallMsOf(Date.parse(`${DAY}T${clock}:00Z`));
const ms = (minutes: number) => (minutes * MINUTE) as Slip extends { byMs: infer Ms } ? Ms : never;
const clockOf = (wall: number) => new Date(wall).toISOString().slice(11, 16);

/** Three groups, three rounds, lunch of an hour after the second. */
function dayOf(slipRule: SlipRule, more: Partial<Timetable> = {}): Timetable {
  const starts = ['09:00', '09:20', '09:40', '10:00', '10:20', '11:40', '13:00', '13:20', '13:40'];
  const slots = starts.map((start, i): TimetableSlot => {
    const group = 'NIF'[i % 3]!;
    return {
      name: `${group}${Math.floor(i / 3) + 1}`,
      group,
      start: at(start),
      end: wallMsOf(at(start) + 20 * MINUTE),
    };
  });
  const groups = [
    { key: 'N', name: 'Novice' },
    { key: 'I', name: 'Inters' },
    { key: 'F', name: 'Fast' },
  ];
  return { groups, slots, slipRule, ...more };
}

const run = (timetable: Timetable, ...slips: readonly Slip[]) => {
  const slipped = applySlips(timetable, slips);
  return {
    slots: slipped.timetable.slots.map(({ name, start, end }) => `${name} ${clockOf(start)}-${clockOf(end)}`),
    sentences: slipped.effects.flatMap(({ sentences }) => sentences),
    timetable: slipped.timetable,
  };
};

const asSaid = (timetable: Timetable) => timetableInForce([{ kind: 'timetable', timetable }])!;
const late = (slot: string, minutes: number): Slip => ({ kind: 'late', slot, byMs: ms(minutes) });

describe('a late start', () => {
  it('PL210: sliding, everything after moves, and lunch gives way', () => {
    const { slots, sentences } = run(dayOf('sliding'), late('N2', 7));
    expect(slots).toEqual([
      'N1 09:00-09:20',
      'I1 09:20-09:40',
      'F1 09:40-10:00',
      'N2 10:07-10:27',
      'I2 10:27-10:47',
      'F2 11:47-12:07',
      'N3 13:00-13:20',
      'I3 13:20-13:40',
      'F3 13:40-14:00',
    ]);
    expect(sentences).toEqual([
      'N2 to F2 start 7 min later: N2 at 10:07.',
      'Lunch is 7 min shorter: 12:07 to 13:00, 53 min.',
    ]);
  });

  it('PL211: lunch is never pressed below its least; what it cannot give moves the afternoon', () => {
    const { slots, timetable } = run(dayOf('sliding', { curfews: [at('17:00')] }), late('N2', 40));
    const lunch = lunchOf(slotsOfDay(timetable, DAY), timetable.pauses ?? [])!;
    expect(lunch.end - lunch.start).toBe(LEAST_LUNCH_MS);
    expect(slots.at(-3)).toBe('N3 13:10-13:30');
    expect(run(timetable, late('I2', 5)).slots.at(-3)).toBe('N3 13:15-13:35');
  });

  it('PL212: at the day’s end the last session is cut, and dropped where too little is left; a curfew is the end where one is said', () => {
    const one = run(dayOf('sliding'), late('N3', 8));
    expect(one.slots.at(-1)).toBe('F3 13:48-14:00');
    expect(one.sentences).toEqual([
      'N3 to I3 start 8 min later: N3 at 13:08.',
      'F3 is 8 min shorter: 13:48 to 14:00.',
      'Lunch is 8 min longer: 12:00 to 13:08, 68 min.',
    ]);
    const two = run(dayOf('sliding'), late('N3', 12));
    expect(two.slots.at(-1)).toBe('I3 13:32-13:52');
    expect(two.sentences).toContain('F3 will not run.');
    expect(run(dayOf('sliding', { curfews: [at('14:30')] }), late('N3', 12)).slots.at(-1)).toBe('F3 13:52-14:12');
  });

  it('PL213: by the clock the late session is cut and nothing else moves; a longer hold meets the ones behind it', () => {
    const { slots, sentences } = run(dayOf('clock-fixed'), late('N2', 7));
    expect(slots.slice(3, 5)).toEqual(['N2 10:07-10:20', 'I2 10:20-10:40']);
    expect(sentences).toEqual(['N2 is 7 min shorter: 10:07 to 10:20.']);
    const hold = run(dayOf('clock-fixed'), late('N2', 25));
    expect(hold.slots[3]).toBe('I2 10:25-10:40');
    expect(hold.sentences).toEqual(['I2 is 5 min shorter: 10:25 to 10:40.', 'N2 will not run.']);
  });

  it('PL214: a session early does not run into the one before it; an unknown name moves nothing and is said', () => {
    expect(run(dayOf('sliding'), late('F2', -30)).slots[5]).toBe('F2 11:10-11:30');
    expect(run(dayOf('sliding'), late('I2', -30)).slots[4]).toBe('I2 10:20-10:40');
    const { slots, sentences } = run(dayOf('sliding'), late('Z9', 7));
    expect(slots).toEqual(run(dayOf('sliding')).slots);
    expect(sentences).toEqual(['Expected a session of the timetable but Z9 is none; nothing moved.']);
  });
});

it('PL212: a morning before its lunch may run into it, for the day is longer than its sessions', () => {
  const slots = dayOf('sliding').slots.slice(0, 6);
  const pauses = [{ kind: 'lunch', name: 'Lunch', start: at('12:00'), end: at('13:00') }] as const;
  expect(run(dayOf('sliding', { slots, pauses }), late('F2', 7)).slots.at(-1)).toBe('F2 11:47-12:07');
});

describe('a red flag', () => {
  it('PL215: not resumed, the session ends there and the rest stands', () => {
    for (const rule of ['sliding', 'clock-fixed'] as const) {
      const { slots, sentences } = run(dayOf(rule), { kind: 'red-flag', at: at('10:08') });
      expect(slots.slice(3, 5)).toEqual(['N2 10:00-10:08', 'I2 10:20-10:40']);
      expect(sentences).toEqual(['Red flag at 10:08 in N2.', 'N2 is 12 min shorter: 10:00 to 10:08.']);
    }
  });

  it('PL216: resumed, sliding moves what is left and all after; by the clock it keeps its end', () => {
    const flag = { kind: 'red-flag', at: at('10:08'), resumesAt: at('10:15') } as const;
    const sliding = run(dayOf('sliding'), flag);
    expect(sliding.slots.slice(3, 6)).toEqual(['N2 10:00-10:27', 'I2 10:27-10:47', 'F2 11:47-12:07']);
    const fixed = run(dayOf('clock-fixed'), flag);
    expect(fixed.slots).toEqual(run(dayOf('clock-fixed')).slots);
    expect(fixed.sentences).toEqual([
      'Red flag at 10:08 in N2. It goes on at 10:15. N2 still ends at 10:20: 7 min of it are lost.',
    ]);
    const long = run(dayOf('clock-fixed'), { ...flag, resumesAt: at('10:30') });
    expect(long.slots.slice(3, 5)).toEqual(['N2 10:00-10:08', 'I2 10:30-10:40']);
  });

  it('PL216: first the flag, later when it goes on: the two are one flag', () => {
    const flag = { kind: 'red-flag', at: at('10:08') } as const;
    const both = run(dayOf('sliding'), flag, { ...flag, resumesAt: at('10:15') });
    expect(both.slots).toEqual(run(dayOf('sliding'), { ...flag, resumesAt: at('10:15') }).slots);
  });

  it('PL217: between sessions it delays the next one, where it lasts that long', () => {
    const flag = { kind: 'red-flag', at: at('11:30'), resumesAt: at('11:50') } as const;
    expect(run(dayOf('sliding'), flag).slots[5]).toBe('F2 11:50-12:10');
    expect(run(dayOf('sliding'), { ...flag, resumesAt: at('11:35') }).slots[5]).toBe('F2 11:40-12:00');
    expect(run(dayOf('sliding'), { ...flag, resumesAt: at('11:20') }).sentences).toEqual([
      'Expected the track open again after 11:30 but got 11:20; nothing moved.',
    ]);
  });
});

describe('lunch', () => {
  it('PL218: a shorter lunch moves the afternoon earlier by either rule; a longer one slides or costs', () => {
    const shorter = (minutes: number): Slip => ({ kind: 'lunch-shorter', at: at('12:30'), byMs: ms(minutes) });
    for (const rule of ['sliding', 'clock-fixed'] as const) {
      const { slots, sentences } = run(dayOf(rule), shorter(20));
      expect(slots.slice(6)).toEqual(['N3 12:40-13:00', 'I3 13:00-13:20', 'F3 13:20-13:40']);
      expect(sentences[0]).toBe('The pause from 12:00 is 20 min shorter: 40 min.');
    }
    expect(run(dayOf('clock-fixed'), shorter(-10)).slots.slice(6, 8)).toEqual(['N3 13:10-13:20', 'I3 13:20-13:40']);
    expect(run(dayOf('sliding'), shorter(-10)).slots.slice(6)).toEqual([
      'N3 13:10-13:30',
      'I3 13:30-13:50',
      'F3 13:50-14:00',
    ]);
    expect(run(dayOf('sliding'), shorter(90)).sentences[0]).toContain('There was no more of it than 60 min.');
    expect(run(dayOf('sliding'), { kind: 'lunch-shorter', at: at('10:10'), byMs: ms(5) }).sentences).toEqual([
      'Expected a gap between sessions at 10:10 but there is none; nothing moved.',
    ]);
  });
});

describe('a group more', () => {
  const guests = { key: 'G', name: 'Guests' };

  it('PL219: sliding, its session follows each round that is left and the others make way', () => {
    const added = addGroup(asSaid(dayOf('sliding', { curfews: [at('15:00')] })), guests, DAY, at('10:00'))!;
    if (added.kind !== 'slip') throw new Error('expected a slip');
    const { slots, sentences } = run(dayOf('sliding', { curfews: [at('15:00')] }), added.slip);
    expect(slots.filter((slot) => slot.startsWith('G'))).toEqual([
      'G1 10:40-11:00',
      'G2 12:00-12:20',
      'G3 14:00-14:20',
    ]);
    expect(sentences[0]).toBe('Guests joined the timetable.');
  });

  it('PL219: by the clock the round shares its time', () => {
    const added = addGroup(asSaid(dayOf('clock-fixed')), guests, DAY, at('12:00'))!;
    if (added.kind !== 'timetable') throw new Error('expected a timetable');
    expect(
      added.timetable.slots.slice(6).map(({ name, start, end }) => `${name} ${clockOf(start)}-${clockOf(end)}`),
    ).toEqual(['N3 13:00-13:15', 'I3 13:15-13:30', 'F3 13:30-13:45', 'G1 13:45-14:00']);
    expect(addGroup(asSaid(dayOf('clock-fixed')), guests, DAY, at('15:00'))).toBeNull();
  });

  it('PL220: sessions put where others stand: sliding those wait, by the clock they are cut; a name is given once', () => {
    const slots = [{ name: 'G1', group: 'G', start: at('10:05'), end: at('10:15') }];
    const slip: Slip = { kind: 'group-added', group: guests, slots };
    expect(run(dayOf('sliding'), slip).slots.slice(3, 6)).toEqual([
      'N2 10:00-10:05',
      'G1 10:05-10:15',
      'I2 10:20-10:40',
    ]);
    expect(
      run(dayOf('clock-fixed'), {
        ...slip,
        slots: [{ ...slots[0]!, start: at('10:10'), end: at('10:25') }],
      }).slots.slice(3, 6),
    ).toEqual(['N2 10:00-10:10', 'G1 10:10-10:25', 'I2 10:25-10:40']);
    const twice = run(dayOf('sliding'), slip, slip);
    expect(twice.sentences.at(-1)).toBe('G1 stands already, so the new one of that name was left out.');
  });
});

it('PL221: a session that will not run leaves its time empty', () => {
  const { slots, sentences } = run(dayOf('sliding'), { kind: 'dropped', slot: 'I2' });
  expect(slots).toHaveLength(8);
  expect(slots[4]).toBe('F2 11:40-12:00');
  expect(sentences).toEqual(['I2 will not run.']);
});

it('PL222: in force is the last timetable with the slips since; a slip taken back was never there', () => {
  const said = { kind: 'timetable', timetable: dayOf('sliding') } as const;
  const slip = { kind: 'slip', slip: late('N2', 7) } as const;
  const start = (inForce: ReturnType<typeof timetableInForce>) => clockOf(inForce!.timetable.slots[3]!.start);
  expect(start(timetableInForce([said, slip]))).toBe('10:07');
  expect(start(timetableInForce([said, slip, slip]))).toBe('10:14');
  expect(start(timetableInForce([said, slip, said]))).toBe('10:00');
  expect(start(timetableInForce([said]))).toBe('10:00');
  expect(timetableInForce([slip])).toBeNull();
});

it('PL222: what one slip more would do is asked of what was said: the day may go as late as it might before', () => {
  const timetable = dayOf('sliding');
  const shorter = { kind: 'slip', slip: { kind: 'lunch-shorter', at: at('12:30'), byMs: ms(20) } } as const;
  const inForce = timetableInForce([{ kind: 'timetable', timetable }, shorter])!;
  expect(slipOn(inForce, late('N3', 10)).sentences).toContain('N3 to F3 start 10 min later: N3 at 12:50.');
});

const minutes = fc.integer({ min: -20, max: 150 });
const anySlip: fc.Arbitrary<Slip> = fc.oneof(
  fc.record({
    kind: fc.constant('late' as const),
    slot: fc.constantFrom('N1', 'N2', 'I2', 'F2', 'F3', 'N3'),
    byMs: minutes.map(ms),
  }),
  fc.record({ kind: fc.constant('dropped' as const), slot: fc.constantFrom('N2', 'I1', 'F3') }),
  fc
    .tuple(fc.integer({ min: 530, max: 850 }), fc.option(fc.integer({ min: 1, max: 60 })))
    .map(([minute, for_]): Slip => {
      const start = wallMsOf(at('00:00') + minute * MINUTE);
      return { kind: 'red-flag', at: start, ...(for_ === null ? {} : { resumesAt: wallMsOf(start + for_ * MINUTE) }) };
    }),
  fc.record({ kind: fc.constant('lunch-shorter' as const), at: fc.constant(at('12:30')), byMs: minutes.map(ms) }),
  fc.tuple(fc.integer({ min: 530, max: 850 }), fc.integer({ min: 1, max: 40 })).map(
    ([minute, length]): Slip => ({
      kind: 'group-added',
      group: { key: 'G', name: 'Guests' },
      slots: [
        {
          name: `G${minute}`,
          group: 'G',
          start: wallMsOf(at('00:00') + minute * MINUTE),
          end: wallMsOf(at('00:00') + (minute + length) * MINUTE),
        },
      ],
    }),
  ),
);

describe('whatever is said, in whatever order', () => {
  const rule = fc.constantFrom<SlipRule>('sliding', 'clock-fixed');
  const slips = fc.array(anySlip, { minLength: 1, maxLength: 6 });

  it('PL210: sessions never overlap, none ends before it starts, none is invented', () => {
    fc.assert(
      fc.property(rule, slips, (slipRule, said) => {
        const { slots } = applySlips(dayOf(slipRule), said).timetable;
        for (const [i, slot] of slots.entries()) {
          expect(slot.end).toBeGreaterThan(slot.start);
          if (i > 0) expect(slot.start).toBeGreaterThanOrEqual(slots[i - 1]!.end);
        }
        expect(new Set(slots.map(({ name }) => name)).size).toBe(slots.length);
      }),
      { numRuns: 400 },
    );
  });

  it('PL210: sessions of the timetable keep their order', () => {
    fc.assert(
      fc.property(rule, slips, (slipRule, said) => {
        const names = dayOf(slipRule).slots.map(({ name }) => name);
        const left = applySlips(dayOf(slipRule), said).timetable.slots.filter(({ name }) => names.includes(name));
        expect(left.map(({ name }) => name)).toEqual(names.filter((name) => left.some((slot) => slot.name === name)));
      }),
      { numRuns: 400 },
    );
  });

  it('PL212: after a late start nothing runs past a curfew', () => {
    fc.assert(
      fc.property(fc.constantFrom('N1', 'I2', 'N3'), fc.integer({ min: 1, max: 150 }), (slot, by) => {
        const { slots } = applySlips(dayOf('sliding', { curfews: [at('14:10')] }), [late(slot, by)]).timetable;
        expect(Math.max(...slots.map(({ end }) => end))).toBeLessThanOrEqual(at('14:10'));
        const cut = slots.filter((one) => one.end - one.start < 20 * MINUTE);
        expect(cut.every((one) => one.end - one.start >= LEAST_SESSION_MS)).toBe(true);
      }),
    );
  });

  it('PL222: every slip is answered with a sentence, unless it is of no length', () => {
    fc.assert(
      fc.property(rule, slips, (slipRule, said) => {
        for (const { slip, sentences, changes } of applySlips(dayOf(slipRule), said).effects)
          if (changes.length > 0 || slip.kind !== 'late') expect(sentences.length).toBeGreaterThan(0);
      }),
    );
  });
});

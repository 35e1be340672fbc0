import { describe, expect, it } from 'vitest';
import type { Slip } from '../../core/plan/timetable/types.js';
import type { SlipRule, Timetable, TimetableSlot } from '../../core/plan/types.js';
import { wallMsOf } from '../../core/units.js';
import type { SlipView } from '../../server/types.js';
import { type Gesture, slipGestures, slotNow } from './slips.js';

const DATE = '2026-09-19';
const at = (clock: string) => wallMsOf(Date.parse(`${DATE}T${clock}:00Z`));
const slot = (name: string, start: string, end: string): TimetableSlot => ({
  name,
  group: name.charAt(0),
  start: at(start),
  end: at(end),
});
const runs = (slipRule: SlipRule): Timetable => ({
  groups: [
    { key: 'N', name: 'Novice' },
    { key: 'F', name: 'Fast' },
  ],
  slots: [
    slot('N1', '10:00', '10:20'),
    slot('F1', '10:20', '10:40'),
    slot('N2', '13:00', '13:20'),
    slot('F2', '13:20', '13:40'),
  ],
  pauses: [{ kind: 'lunch', name: 'Lunch', start: at('12:00'), end: at('13:00') }],
  slipRule,
});

const view = (clock: string, more: { slipRule?: SlipRule; slips?: readonly SlipView[] } = {}) => ({
  date: DATE,
  now: wallMsOf(at(clock) + 23_000),
  said: runs(more.slipRule ?? 'sliding'),
  slips: more.slips ?? [],
});
const wish = { slot: 'F1', minutes: 7, groupName: 'Guests' };
const slipOf = (gesture: Gesture): Slip => {
  const [decision] = gesture.kind === 'ready' ? gesture.decisions : [];
  if (decision?.kind !== 'slip') throw new Error('expected a slip');
  return decision.slip;
};

describe('one gesture for what went otherwise', () => {
  it('PL270: a late start says the session, its day and the minutes, and what follows', () => {
    const { late } = slipGestures(view('10:27'), wish)!;
    expect(slipOf(late)).toEqual({ kind: 'late', slot: 'F1', on: DATE, byMs: 420_000 });
    expect(late).toMatchObject({
      text: 'F1 started 7 min late',
      follows: ['F1 starts 7 min later, at 10:27.', expect.stringContaining('Lunch')],
    });
    expect(slipGestures(view('10:27'), { ...wish, minutes: Number.NaN })?.late).toEqual({
      kind: 'not-now',
      why: 'Say by how many minutes first.',
    });
  });

  it('PL271: a red flag is now, to the minute, and only while somebody is out', () => {
    expect(slipOf(slipGestures(view('10:27'), wish)!.red)).toEqual({ kind: 'red-flag', at: at('10:27') });
    expect(slipGestures(view('11:30'), wish)!.red).toMatchObject({
      kind: 'not-now',
      why: 'By the timetable nobody is out at 11:30.',
    });
  });

  it('PL272: on again speaks of the flag that stands', () => {
    const flag = { kind: 'red-flag', at: at('10:27') } as const;
    const slips = [{ gesture: 'g', slip: flag, text: '', sentences: [] }] as unknown as readonly SlipView[];
    expect(slipOf(slipGestures(view('10:34', { slips }), wish)!.again)).toEqual({ ...flag, resumesAt: at('10:34') });
    expect(slipGestures(view('10:34'), wish)!.again.kind).toBe('not-now');
  });

  it('PL273: lunch is found by itself', () => {
    const { lunch } = slipGestures(view('12:10'), { ...wish, minutes: 20 })!;
    expect(slipOf(lunch)).toMatchObject({ kind: 'lunch-shorter', byMs: 1_200_000 });
    expect(lunch).toMatchObject({ text: 'Lunch is 20 min shorter' });
  });

  it('PL274: a group more is a slip where sessions slide, and a timetable of shared rounds by the clock', () => {
    const sliding = slipOf(slipGestures(view('12:10'), wish)!.group);
    expect(sliding).toMatchObject({
      kind: 'group-added',
      group: { key: 'G', name: 'Guests' },
      slots: [{ name: 'G1', start: at('13:40') }],
    });
    const fixed = slipGestures(view('12:10', { slipRule: 'clock-fixed' }), wish)!.group;
    expect(fixed.kind === 'ready' && fixed.decisions[0]?.kind).toBe('timetable');
    expect(slipGestures(view('14:00'), wish)!.group).toEqual({ kind: 'not-now', why: 'No round is left on this day.' });
    expect(slipOf(slipGestures(view('12:10'), { ...wish, groupName: 'Further' })!.group)).toMatchObject({
      group: { key: 'FU' },
    });
  });

  it('PL275: the session offered first is the one out, else the next, else the last', () => {
    const { slots } = runs('sliding');
    expect([at('10:25'), at('11:00'), at('18:00')].map((now) => slotNow(slots, now))).toEqual(['F1', 'N2', 'F2']);
    expect(slipGestures({ ...view('10:27'), date: '2026-09-20' }, wish)).toBeNull();
  });
});

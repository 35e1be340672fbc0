import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typicalPocketDay } from '../../../../test/builders/pocketDay.js';
import type { GestureId } from '../../ids.js';
import { wallMsOf } from '../../units.js';
import { timetableInForce } from '../timetable/index.js';
import type { Timetable } from '../types.js';
import { glanceAt, type KnownToTaps, type PocketDay, type Tap, whatTapsSay } from './index.js';

const MINUTE_MS = 60_000;
const at = (hour: number, min: number, s = 0) => wallMsOf(typicalPocketDay.day + ((hour * 60 + min) * 60 + s) * 1000);
const clock = (hour: number, min: number) => (hour * 60 + min) * MINUTE_MS;

/** Nine sessions from 10:00 with five minutes between, an hour and a half of lunch from 12:10, three after it. */
const sliding: PocketDay = {
  ...typicalPocketDay,
  slipRule: 'sliding',
  slots: ['N1', 'I1', 'F1', 'N2', 'I2', 'N3', 'I3', 'F3'].map((name, index) => {
    const fromMin = (index < 5 ? 600 : 690) + 25 * index;
    return { name, group: name[0]!, fromMin, toMin: fromMin + 20, isSighting: false };
  }),
  stays: [
    { ...typicalPocketDay.stays[0]!, fromMin: 600, toMin: 645, watch: [] },
    { ...typicalPocketDay.stays[1]!, fromMin: 815, toMin: 885, watch: [] },
  ],
};
const timetable: Timetable = {
  groups: sliding.groups,
  slipRule: 'sliding',
  slots: sliding.slots.map(({ name, group, fromMin, toMin }) => ({
    name,
    group,
    start: at(0, fromMin),
    end: at(0, toMin),
  })),
};

const out = (seq: number, slot: string, when: number): Tap => {
  const planned = sliding.slots.find(({ name }) => name === slot)!.fromMin;
  return {
    seq,
    at: wallMsOf(when),
    isUndone: false,
    kind: 'out',
    slot,
    afterStartS: (when - at(0, planned)) / 1000,
  };
};
const late = (seq: number, slot: string, byMin: number): Tap => {
  const planned = sliding.slots.find(({ name }) => name === slot)!.fromMin;
  return { seq, at: at(9, 50), isUndone: false, kind: 'late', slot, byMin, plannedAt: at(0, planned) };
};
const red = (seq: number, when: number): Tap => ({ seq, at: wallMsOf(when), isUndone: false, kind: 'red-flag' });

const SAID = 'said' as GestureId;
const said = { gesture: SAID, decision: { kind: 'timetable', timetable } } as const;
const heard = (taps: readonly Tap[], timetables: KnownToTaps['timetable'] = [said]) =>
  whatTapsSay(
    { dayCheck: '00000000', phone: 'a1b2c3d4', eastMin: 60, taps },
    { riderOf: () => undefined, timetable: timetables, slipSaid: () => undefined },
  );
const slipsOf = (taps: readonly Tap[], timetables?: KnownToTaps['timetable']) =>
  heard(taps, timetables).said.flatMap(({ decision }) => (decision.kind === 'slip' ? [decision.slip] : []));
const byMin = (taps: readonly Tap[], timetables?: KnownToTaps['timetable']) =>
  slipsOf(taps, timetables).map((slip) => (slip.kind === 'late' ? [slip.slot, slip.byMs / MINUTE_MS] : slip.kind));
/** When each session begins at the laptop once all that was tapped is taken. */
const startsThen = (taps: readonly Tap[]) =>
  new Map(
    timetableInForce([
      said.decision,
      ...slipsOf(taps).map((slip) => ({ kind: 'slip' as const, slip })),
    ])!.timetable.slots.map(({ name, start }) => [name, start]),
  );

describe('taps about starts', () => {
  it('PL705: a session that an earlier one pushed back is late by the rest only, however the taps were ordered', () => {
    const taps = [out(1, 'N1', at(10, 7)), out(2, 'I1', at(10, 34))];
    expect(byMin(taps)).toEqual([
      ['N1', 7],
      ['I1', 2],
    ]);
    expect(startsThen(taps).get('I1')).toBe(at(10, 34));
    expect(startsThen([late(1, 'I1', 9), out(2, 'N1', at(10, 7))]).get('I1')).toBe(at(10, 34));
  });

  it('PL705: what the desk was told already is not said again', () => {
    const slip = { kind: 'late', slot: 'N1', byMs: 7 * MINUTE_MS } as never;
    expect(
      byMin([out(1, 'N1', at(10, 7))], [said, { gesture: 'desk' as GestureId, decision: { kind: 'slip', slip } }]),
    ).toEqual([]);
    // A start expected later than it now stands says nothing either; it never pulls a session forward.
    expect(
      byMin([late(1, 'I1', 5)], [said, { gesture: 'desk' as GestureId, decision: { kind: 'slip', slip } }]),
    ).toEqual([]);
  });

  it('PL705: a tap taken before it was overtaken does not count for what replaces it', () => {
    const taps = [late(1, 'N1', 5), out(2, 'N1', at(10, 9))];
    const gesture = heard([taps[0]!]).said[0]!.gesture;
    const before = { gesture, decision: { kind: 'slip', slip: slipsOf([taps[0]!])[0]! } } as const;
    expect(heard(taps, [said, before]).said.map(({ decision }) => decision.kind)).toEqual(['withdraw', 'slip']);
    expect(byMin(taps, [said, before])).toEqual([['N1', 9]]);
  });

  it('PL705: out early is early after a red flag, and a slip of the thumb while another group is out', () => {
    expect(byMin([red(1, at(10, 8)), out(2, 'I1', at(10, 17))])).toEqual(['red-flag', ['I1', -8]]);
    const { said: none, notes } = heard([out(1, 'N1', at(10, 0)), out(2, 'I1', at(10, 4))]);
    expect(none).toEqual([]);
    expect(notes).toEqual([
      'I1 was tapped out at 10:04, but by the timetable N1 is out until 10:20. Nothing was said for it; if it did go out then, say at the desk when N1 ended.',
    ]);
  });

  it('PL705: a session planned before midnight and tapped after it is the one of the evening', () => {
    const night: Timetable = {
      ...timetable,
      slots: [{ name: 'N9', group: 'N', start: at(23, 50), end: at(24, 10) }],
    };
    const tap: Tap = { seq: 1, at: at(24, 2), isUndone: false, kind: 'out', slot: 'N9', afterStartS: 720 };
    expect(slipsOf([tap], [{ gesture: SAID, decision: { kind: 'timetable', timetable: night } }])).toEqual([
      { kind: 'late', slot: 'N9', on: '2026-09-19', byMs: 12 * MINUTE_MS },
    ]);
  });
});

describe('the phone by the laptop’s rules', () => {
  const begins = (taps: readonly Tap[], nowMs = 0) =>
    new Map(glanceAt(sliding, taps, nowMs).slots.map(({ name, fromMin }) => [name, fromMin]));

  it('PL708: lunch gives way on the phone too, so the afternoon’s countdown stands', () => {
    const taps = [out(1, 'N1', at(10, 7))];
    expect([begins(taps).get('I2'), begins(taps).get('N3')]).toEqual([707, 815]);
  });

  it('PL708: a session that goes on after a red flag is ridden longer, and its stay ends with it', () => {
    const flag = red(1, at(10, 8));
    const goesOn: Tap = { seq: 2, at: at(10, 20), isUndone: false, kind: 'resumed', stoppedAt: flag.at };
    const { isOut, slots, stay } = glanceAt(sliding, [flag, goesOn], clock(10, 25));
    expect([isOut?.name, isOut?.toMin, slots[1]!.fromMin, stay?.toMin]).toEqual(['N1', 632, 637, 657]);
  });

  it('PL708: nobody goes out under red: the flag outlives its session on a sliding day, and what follows waits', () => {
    const taps = [red(1, at(10, 8))];
    const glance = glanceAt(sliding, taps, clock(10, 31));
    expect([glance.isOut?.name, glance.stoppedAtMin, glance.countdown.to]).toEqual(['N1', 608, 'going-on']);
    expect(begins(taps, clock(10, 31)).get('I1')).toBe(631);
    expect(glanceAt(sliding, [...taps, out(2, 'I1', at(10, 32))], clock(10, 33))).toMatchObject({
      isOut: { name: 'I1', fromMin: 632 },
      stoppedAtMin: null,
    });
    // Forgotten, it does not hold the day for ever.
    expect(glanceAt(sliding, taps, clock(10, 51)).stoppedAtMin).toBeNull();
  });

  it('PL708: whatever is tapped, the phone has each session where the laptop has it once the taps are taken', () => {
    const minutes = fc.integer({ min: 0, max: 40 });
    const slot = fc.constantFrom(...sliding.slots);
    const anyTap = fc.oneof(
      fc.tuple(slot, minutes).map(
        ([{ name, fromMin }, by]) =>
          (seq: number) =>
            out(seq, name, at(0, fromMin + by)),
      ),
      fc.tuple(slot, minutes).map(
        ([{ name }, by]) =>
          (seq: number) =>
            late(seq, name, by),
      ),
    );
    fc.assert(
      fc.property(fc.array(anyTap, { maxLength: 8 }), (made) => {
        const taps = made.map((tap, index) => tap(index + 1));
        const onPhone = [...begins(taps)].map(([name, fromMin]) => [name, at(0, fromMin)]);
        expect(onPhone).toEqual([...startsThen(taps)]);
      }),
      { numRuns: 80 },
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typicalPocketDay } from '../../../../test/builders/pocketDay.js';
import { zlibSqueezer } from '../../../host/pocket/squeezer.js';
import type { RiderId, SpotId } from '../../ids.js';
import { checkDecision } from '../../log/index.js';
import type { ColourName } from '../../measure/index.js';
import { crc32OfBytes } from '../../numeric/crc32.js';
import { millisecondsOf, wallMsOf } from '../../units.js';
import {
  codeOfDay,
  codeOfTaps,
  fitDay,
  glanceAt,
  type KnownToTaps,
  POCKET_COLOURS,
  type PocketColour,
  type PocketDay,
  type PocketTaps,
  readCode,
  type Tap,
  whatTapsSay,
} from './index.js';
import { fromBase64Url, toBase64Url } from './utf8.js';

const minute = fc.integer({ min: 0, max: 2879 });
const words = fc.oneof(fc.string({ unit: 'binary', maxLength: 20 }), fc.string({ unit: 'grapheme', maxLength: 20 }));
const some = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: undefined });
/** Absent members are absent, never undefined. */
const bare = <Value extends object>(value: Value): Value =>
  Object.fromEntries(Object.entries(value).filter(([, one]) => one !== undefined)) as Value;
const colour = fc.constantFrom(...POCKET_COLOURS);
const light = fc.oneof(
  fc.record({ kind: fc.constantFrom('night' as const, 'cloud' as const, 'not-known' as const) }),
  fc
    .record({
      kind: fc.constant('sun' as const),
      from: fc.constantFrom('front' as const, 'side' as const, 'back' as const),
      altitudeDeg: fc.integer({ min: -1, max: 90 }),
      lowFromMin: some(minute),
    })
    .map(bare),
);

const anyDay = fc
  .record({
    spots: fc.uniqueArray(fc.tuple(fc.string({ minLength: 1, maxLength: 8 }), fc.nat(30), words), {
      selector: ([id]) => id,
      minLength: 1,
      maxLength: 6,
    }),
    groups: fc.uniqueArray(fc.tuple(fc.string({ minLength: 1, maxLength: 3 }), words), {
      selector: ([key]) => key,
      minLength: 1,
      maxLength: 4,
    }),
    watch: fc.array(
      fc
        .record({
          words,
          more: some(words),
          number: some(words),
          code: some(words),
          riderTag: some(fc.stringMatching(/^[0-9a-f]{6}$/)),
          bike: fc.array(colour, { maxLength: 3 }),
          helmet: some(colour),
          lapMs: some(fc.nat(6000).map((tenths) => millisecondsOf(tenths * 100))),
          isNeverSeen: fc.boolean(),
          crop: some(fc.uint8Array({ maxLength: 40 })),
        })
        .map(bare),
      { maxLength: 8 },
    ),
    more: fc.record({
      meeting: words,
      day: fc.nat(40_000).map((days) => wallMsOf(days * 86_400_000)),
      eastMin: fc.integer({ min: -720, max: 840 }),
      madeMin: minute,
      slipRule: fc.constantFrom('sliding' as const, 'clock-fixed' as const),
      cautions: fc.array(words, { maxLength: 3 }),
    }),
  })
  .chain(({ spots, groups, watch, more }) =>
    fc.record({
      ...Object.fromEntries(Object.entries(more).map(([name, value]) => [name, fc.constant(value)])),
      groups: fc.constant(groups.map(([key, name]) => ({ key, name }))),
      spots: fc.constant(spots.map(([id, number, name]) => ({ id: id as SpotId, number, name }))),
      watch: fc.constant(watch),
      slots: fc.array(
        fc.record({
          name: words,
          group: fc.constantFrom(...groups.map(([key]) => key)),
          fromMin: minute,
          toMin: minute,
          isSighting: fc.boolean(),
        }),
        { maxLength: 10 },
      ),
      stays: fc.array(
        fc
          .record({
            fromMin: minute,
            toMin: minute,
            spot: fc.constantFrom(...spots.map(([id]) => id as SpotId)),
            wayMin: fc.nat(90),
            wayWords: some(words),
            light,
            sure: some(fc.nat(8000)),
            slow: some(fc.nat(8000)),
            watch: fc.array(fc.nat(Math.max(0, watch.length - 1)), { maxLength: watch.length === 0 ? 0 : 8 }),
            toGet: some(fc.record({ riders: fc.nat(400), of: fc.nat(400), neverSeen: fc.nat(400) })),
            caution: some(words),
          })
          .map(bare),
        { maxLength: 8 },
      ),
    }),
  ) as unknown as fc.Arbitrary<PocketDay>;

const slotName = fc.stringMatching(/^[A-Z]\d{1,2}$/);
const second = fc.integer({ min: 1_000_000, max: 4_000_000_000 }).map((value) => wallMsOf(value * 1000));
const anyTap = fc
  .tuple(
    fc.record({ seq: fc.nat(500), at: second, isUndone: fc.boolean() }),
    fc.oneof(
      fc.record({
        kind: fc.constant('out' as const),
        slot: slotName,
        afterStartS: fc.integer({ min: -900, max: 9000 }),
      }),
      fc.record({ kind: fc.constant('late' as const), slot: slotName, byMin: fc.nat(90), plannedAt: second }),
      fc.record({ kind: fc.constant('red-flag' as const) }),
      fc.record({ kind: fc.constant('resumed' as const), stoppedAt: second }),
      fc
        .record({
          kind: fc.constant('got' as const),
          spot: some(fc.constantFrom('gannet' as SpotId, 'strand' as SpotId)),
          riderTag: some(fc.stringMatching(/^[0-9a-f]{6}$/)),
          number: some(fc.stringMatching(/^\d{1,3}$/)),
        })
        .map(bare),
    ),
  )
  .map(([shared, rest]) => ({ ...shared, ...rest }) as Tap);
const hex8 = fc.stringMatching(/^[0-9a-f]{8}$/);
const anyTaps: fc.Arbitrary<PocketTaps> = fc.record({
  dayCheck: hex8,
  phone: hex8,
  eastMin: fc.integer({ min: -720, max: 840 }),
  taps: fc.array(anyTap, { maxLength: 20 }),
});

const sameWord: (ours: PocketColour) => ColourName = (name) => name;

describe('the code of a pocket day', () => {
  it('PL701: whatever is put in comes out again', async () => {
    await fc.assert(
      fc.asyncProperty(anyDay, async (day) => {
        const { code, check } = await codeOfDay(day, zlibSqueezer);
        expect(code).toMatch(/^[\w-]+$/);
        expect(await readCode(`https://pocket.example/#${code}`, zlibSqueezer)).toEqual({ kind: 'day', day, check });
      }),
      { numRuns: 200 },
    );
  });

  it('PL701: taps come out as they went in', async () => {
    await fc.assert(
      fc.asyncProperty(anyTaps, async (taps) => {
        const { code, check } = await codeOfTaps(taps, zlibSqueezer);
        expect(await readCode(code, zlibSqueezer)).toEqual({ kind: 'taps', taps, check });
      }),
      { numRuns: 200 },
    );
  });

  it('PL702: a typical day with eight riders to look for squeezes into 400 bytes and one code', async () => {
    expect(typicalPocketDay.watch).toHaveLength(8);
    expect(typicalPocketDay.slots).toHaveLength(21);
    const { squeezedBytes } = await codeOfDay(typicalPocketDay, zlibSqueezer);
    expect(squeezedBytes).toBeLessThanOrEqual(400);
    // Where no sentence is one of those with a short form.
    const ownWords = {
      ...typicalPocketDay,
      cautions: ['Mind the gap in the fence.', 'Ask at the post before moving.'],
    };
    expect((await codeOfDay(ownWords, zlibSqueezer)).squeezedBytes).toBeLessThanOrEqual(430);
  });

  it('PL703: any letter changed is refused with a sentence that says what to do, or changes nothing; any end cut off is refused', async () => {
    const { code } = await codeOfDay(typicalPocketDay, zlibSqueezer);
    const whole = await readCode(code, zlibSqueezer);
    await fc.assert(
      fc.asyncProperty(fc.nat(code.length - 1), fc.constantFrom(...'AQgw7_-'), async (at, letter) => {
        fc.pre(code[at] !== letter);
        const answer = await readCode(`${code.slice(0, at)}${letter}${code.slice(at + 1)}`, zlibSqueezer);
        // RFC 1951 has bits that say nothing (the last byte's filling, lengths of codes nobody uses): then it is the same day.
        if (answer.kind === 'day') expect(answer).toEqual(whole);
        else
          expect(answer).toMatchObject({
            kind: 'refused',
            sentence: expect.stringMatching(/^Expected .* (Scan|scan) /),
          });
      }),
      {
        numRuns: 300,
        examples: [
          [code.length - 1, 'w'],
          [code.length - 2, '_'],
        ],
      },
    );
    for (const cut of [0, 1, 6, 7, 40, code.length - 1])
      expect(await readCode(code.slice(0, cut), zlibSqueezer)).toMatchObject({ kind: 'refused' });
  });

  it('PL703: whatever text comes, it is refused and nothing is thrown', async () => {
    const scanned = fc.oneof(fc.string(), fc.base64String(), fc.uint8Array({ maxLength: 200 }).map(toBase64Url));
    await fc.assert(
      fc.asyncProperty(scanned, async (text) => {
        expect((await readCode(text, zlibSqueezer)).kind).toBe('refused');
      }),
    );
    const { code } = await codeOfDay(typicalPocketDay, zlibSqueezer);
    const later = toBase64Url(fromBase64Url(code)!.with(0, 0x30));
    expect(await readCode(later, zlibSqueezer)).toEqual({
      kind: 'refused',
      sentence:
        'Expected a day of version 2 but got version 3. Open this page once where there is signal, so that it becomes new, and scan again.',
    });
  });

  it('PL703: a code that would unpack to more than a phone should hold is refused', async () => {
    const bomb = await zlibSqueezer.squeeze(new Uint8Array(5_000_000));
    const head = [
      0x20,
      ...[...crc32OfBytes(new Uint8Array(5_000_000)).matchAll(/../g)].map(([hex]) => Number.parseInt(hex, 16)),
    ];
    expect(await readCode(toBase64Url(Uint8Array.from([...head, ...bomb])), zlibSqueezer)).toMatchObject({
      kind: 'refused',
    });
  });

  it('base64url and CRC-32 are those of others', () => {
    // RFC 4648, section 10; and the letters of section 5.
    for (const [plain, coded] of [
      ['', ''],
      ['f', 'Zg'],
      ['fo', 'Zm8'],
      ['foo', 'Zm9v'],
      ['foob', 'Zm9vYg'],
      ['foobar', 'Zm9vYmFy'],
    ])
      expect(toBase64Url(Buffer.from(plain!))).toBe(coded);
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        expect(toBase64Url(bytes)).toBe(Buffer.from(bytes).toString('base64url'));
        expect(fromBase64Url(toBase64Url(bytes))).toEqual(bytes);
      }),
    );
    // Check value of CRC-32/ISO-HDLC.
    expect(crc32OfBytes(Buffer.from('123456789'))).toBe('cbf43926');
    expect(sameWord('navy')).toBe('navy');
  });
});

describe('making a day fit', () => {
  const crop = (of: number) => Uint8Array.from({ length: 900 }, (_, at) => (at * (73 + of) + ((at * at) >> 3)) & 255);
  const rich: PocketDay = {
    ...typicalPocketDay,
    watch: typicalPocketDay.watch.map((one, at) => ({
      ...one,
      crop: crop(at),
      more: `a second line about the rider who is number ${at}`,
    })),
  };

  it('PL704: what helps least goes first, and what was left out is said', async () => {
    const whole = await fitDay(typicalPocketDay, 1003, zlibSqueezer);
    expect(whole).toMatchObject({ kind: 'fits', leftOut: [], day: typicalPocketDay });
    const withoutCrops = await fitDay(rich, 1003, zlibSqueezer);
    expect(withoutCrops).toMatchObject({ kind: 'fits', leftOut: ['the small pictures'] });
    const small = await fitDay(rich, 480, zlibSqueezer);
    expect(small).toMatchObject({
      kind: 'fits',
      leftOut: ['the small pictures', 'stays that are over', 'second lines about riders'],
    });
  });

  it('PL704: slots, settings and cautions stay whatever goes', async () => {
    for (const letters of [900, 600, 480, 440, 400, 360, 300]) {
      const fitted = await fitDay(rich, letters, zlibSqueezer);
      if (fitted.kind !== 'fits') continue;
      expect(fitted.code.code.length).toBeLessThanOrEqual(letters);
      expect(fitted.day.slots).toEqual(rich.slots);
      expect(fitted.day.cautions).toEqual(rich.cautions);
      for (const stay of fitted.day.stays) {
        const before = rich.stays.find(({ fromMin }) => fromMin === stay.fromMin)!;
        expect([stay.spot, stay.sure, stay.slow, stay.caution]).toEqual([
          before.spot,
          before.sure,
          before.slow,
          before.caution,
        ]);
        for (const [at, place] of stay.watch.entries())
          expect(fitted.day.watch[place]!.riderTag).toBe(rich.watch[before.watch[at]!]!.riderTag);
      }
    }
    expect(await fitDay(rich, 100, zlibSqueezer)).toMatchObject({
      kind: 'too-large',
      sentence: expect.stringMatching(/^Expected at most 100 letters .* Give the phone the file instead\.$/),
    });
  });
});

describe('what taps say', () => {
  const at = (hour: number, min: number, s = 0) => wallMsOf(typicalPocketDay.day + ((hour * 60 + min) * 60 + s) * 1000);
  const rider = '3f09c1a2-0000-8000-8000-000000000001' as RiderId;
  const riderOf = (tag: string) => (rider.startsWith(tag) ? rider : undefined);
  const known: KnownToTaps = { riderOf, timetable: [], slipSaid: () => undefined };
  const said = (...taps: Tap[]) => whatTapsSay({ dayCheck: '00000000', phone: 'a1b2c3d4', eastMin: 60, taps }, known);
  const tap = { isUndone: false } as const;

  it('PL705: out, late, red flag and got become lines of the log, with their time', () => {
    const { said: lines, notes } = said(
      { ...tap, seq: 1, at: at(10, 7), kind: 'out', slot: 'N2', afterStartS: 420 },
      { ...tap, seq: 2, at: at(10, 30), kind: 'red-flag' },
      { ...tap, seq: 3, at: at(11, 0), kind: 'late', slot: 'I3', byMin: 10, plannedAt: at(11, 20) },
      { ...tap, seq: 4, at: at(13, 5, 20), kind: 'got', riderTag: '3f09c1', spot: 'gannet' as SpotId, number: '3' },
    );
    expect(notes).toEqual([]);
    expect(lines.map(({ decision }) => decision)).toEqual([
      { kind: 'slip', slip: { kind: 'late', slot: 'N2', on: '2026-09-19', byMs: 420_000 } },
      { kind: 'slip', slip: { kind: 'red-flag', at: at(10, 30) } },
      { kind: 'slip', slip: { kind: 'late', slot: 'I3', on: '2026-09-19', byMs: 600_000 } },
      { kind: 'got', at: at(13, 5, 20), spot: 'gannet', rider, number: '3' },
    ]);
    for (const { decision } of lines) expect(checkDecision(decision).kind).toBe('decision');
  });

  it('PL706: the same taps scanned twice are the same gestures, and each is a UUID of version 7 at its own time', () => {
    fc.assert(
      fc.property(anyTaps, (taps) => {
        const first = whatTapsSay(taps, known);
        expect(whatTapsSay(taps, known)).toEqual(first);
        for (const { gesture, decision } of first.said) {
          expect(gesture).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-8[0-9a-f]{3}-[0-9a-f]{12}$/);
          expect(checkDecision(decision).kind).toBe('decision');
        }
      }),
    );
    const { gesture } = said({ ...tap, seq: 7, at: at(10, 0), kind: 'red-flag' }).said[0]!;
    expect(Number.parseInt(gesture.replaceAll('-', '').slice(0, 12), 16)).toBe(Date.UTC(2026, 8, 19, 9));
  });

  it('PL706: taken back on the phone after it was handed over, a tap is withdrawn', () => {
    const flag: Tap = { ...tap, seq: 1, at: at(10, 30), kind: 'red-flag' };
    const { gesture } = said(flag).said[0]!;
    expect(said({ ...flag, isUndone: true }).said.map(({ decision }) => decision)).toEqual([
      { kind: 'withdraw', gesture },
    ]);
  });

  it('PL706: a session that goes on says when; a later word about a start stands for an earlier one', () => {
    const flag: Tap = { ...tap, seq: 1, at: at(10, 30), kind: 'red-flag' };
    const late: Tap = { ...tap, seq: 3, at: at(11, 0), kind: 'late', slot: 'I3', byMin: 5, plannedAt: at(11, 20) };
    const lines = said(flag, { ...tap, seq: 2, at: at(10, 38), kind: 'resumed', stoppedAt: flag.at }, late, {
      ...tap,
      seq: 4,
      at: at(11, 29),
      kind: 'out',
      slot: 'I3',
      afterStartS: 540,
    }).said;
    expect(lines.map(({ decision }) => decision)).toEqual([
      { kind: 'withdraw', gesture: said(flag).said[0]!.gesture },
      { kind: 'withdraw', gesture: said(late).said[0]!.gesture },
      { kind: 'slip', slip: { kind: 'red-flag', at: flag.at, resumesAt: at(10, 38) } },
      { kind: 'slip', slip: { kind: 'late', slot: 'I3', on: '2026-09-19', byMs: 540_000 } },
    ]);
  });

  it('PL705: a session that goes out on time says nothing, and a rider nobody knows is told', () => {
    expect(said({ ...tap, seq: 1, at: at(10, 0, 20), kind: 'out', slot: 'N2', afterStartS: 20 })).toEqual({
      said: [],
      notes: [],
    });
    const { said: none, notes } = said({ ...tap, seq: 2, at: at(13, 5), kind: 'got', riderTag: 'ffffff' });
    expect(none).toEqual([]);
    expect(notes).toEqual([
      expect.stringMatching(/^Expected a rider of this meeting for “Got” number 2, but none is known by ffffff\./),
    ]);
  });
});

describe('one glance', () => {
  const clock = (hour: number, min: number, s = 0) => ((hour * 60 + min) * 60 + s) * 1000;
  const wall = (hour: number, min: number) => wallMsOf(typicalPocketDay.day + clock(hour, min));

  it('PL707: says what is out, how long it is until the stay’s session, and what comes after', () => {
    const { isOut, countdown, stay, way, after } = glanceAt(typicalPocketDay, [], clock(12, 55, 48));
    expect(isOut?.name).toBe('F4');
    expect(countdown).toMatchObject({ to: 'end', slot: { name: 'F4' }, ms: 252_000 });
    expect([stay?.spot, way, after?.spot]).toEqual(['lifeboat', 'there', 'gannet']);
  });

  it('PL707: before a stay its way is told, and when it is time to go', () => {
    const gap: PocketDay = {
      ...typicalPocketDay,
      stays: [{ ...typicalPocketDay.stays[5]!, fromMin: 760, toMin: 780, wayMin: 8 }],
    };
    expect(glanceAt(gap, [], clock(12, 20))).toMatchObject({
      way: 'later',
      countdown: { to: 'out', slot: { name: 'F4' } },
    });
    expect(glanceAt(gap, [], clock(12, 33))).toMatchObject({ way: 'go' });
    expect(glanceAt(gap, [], clock(12, 50))).toMatchObject({ way: 'there' });
    expect(glanceAt(gap, [], clock(18, 0))).toMatchObject({ stay: null, next: null, countdown: { to: 'nothing' } });
  });

  it('PL708: late moves all that follows on a sliding day and its own start alone by the clock; taken back, nothing', () => {
    const late: Tap = {
      seq: 1,
      at: wall(10, 0),
      isUndone: false,
      kind: 'late',
      slot: 'N2',
      byMin: 7,
      plannedAt: wall(10, 0),
    };
    const sliding: PocketDay = { ...typicalPocketDay, slipRule: 'sliding' };
    const starts = (day: PocketDay, ...taps: Tap[]) => glanceAt(day, taps, 0).slots.map(({ fromMin }) => fromMin);
    const before = typicalPocketDay.slots.map(({ fromMin }) => fromMin);
    expect(starts(sliding, late)).toEqual(before.map((min, at) => (at < 3 ? min : min + 7)));
    expect(starts(typicalPocketDay, late)).toEqual(before.map((min, at) => (at === 3 ? min + 7 : min)));
    expect(starts(sliding, { ...late, isUndone: true })).toEqual(before);
    const next: Tap = { ...late, seq: 2, slot: 'I2', byMin: 9, plannedAt: wall(10, 20) };
    expect(starts(sliding, late, next)).toEqual(before.map((min, at) => (at < 3 ? min : at === 3 ? min + 7 : min + 9)));
  });

  it('PL708: a red flag stands until the session goes on, ends or is taken back', () => {
    const flag: Tap = { seq: 1, at: wall(10, 5), isUndone: false, kind: 'red-flag' };
    const stopped = (...taps: Tap[]) => glanceAt(typicalPocketDay, taps, clock(10, 9)).stoppedAtMin;
    expect(stopped(flag)).toBe(605);
    expect(stopped({ ...flag, isUndone: true })).toBeNull();
    expect(stopped(flag, { seq: 2, at: wall(10, 8), isUndone: false, kind: 'resumed', stoppedAt: flag.at })).toBeNull();
    expect(glanceAt(typicalPocketDay, [flag], clock(10, 21)).stoppedAtMin).toBeNull();
  });
});

import { expect, test } from 'vitest';
import { readTruth } from '../../../../demo/day/truth.js';
import type { Arrangement, Exposure, Pass, Session } from '../../arrange/types.js';
import type { Keepers } from '../../choose/types.js';
import { bikeKeyOf } from '../../cover/goodFrames.js';
import type { GoodFrameJudgement } from '../../cover/types.js';
import type { FrameId, RiderKey, SpotId } from '../../ids.js';
import type { FileMetadata } from '../../measure/types.js';
import type { TimetableSlot } from '../../plan/types.js';
import { wallMsOf } from '../../units.js';
import { COMMANDS } from '../kit/testing.js';
import { compareMeetings } from './compareMeetings.js';
import { type DebriefInput, debrief } from './debrief.js';
import { howThingsStand } from './words.js';

const MINUTE = 60_000;
const [BEACON, LANTERN] = ['s1', 's2'] as [SpotId, SpotId];
const NAMES: Readonly<Record<string, string>> = { s1: 'Beacon', s2: 'Lantern' };

/** One pass: how each of its bikes came out, and how it was taken. */
interface PassSpec {
  readonly session?: number;
  readonly spot?: SpotId | null;
  readonly shutter?: number;
  readonly focalMm?: number;
  readonly minute?: number;
  readonly rider?: string;
  readonly bikes: readonly GoodFrameJudgement['kind'][];
}

const SESSIONS = ['Novice', 'Fast', 'Novice'].map(
  (group, index): Session =>
    ({
      index,
      name: `${group[0]}${1 + Math.floor(index / 2)}`,
      slot: `${group[0]}${1 + Math.floor(index / 2)}`,
      group,
      start: wallMsOf(index * 30 * MINUTE),
      end: wallMsOf((index * 30 + 20) * MINUTE),
    }) as unknown as Session,
);

function dayOf(specs: readonly PassSpec[], more: Partial<DebriefInput> = {}): DebriefInput {
  const judgements = new Map<string, GoodFrameJudgement>();
  const metadata = new Map<string, FileMetadata>();
  const exposures: Exposure[] = [];
  const passes = specs.map((spec, index): Pass => {
    const { session = 0, spot = BEACON, shutter = 1 / 500, focalMm = 200, minute = 5, rider = `r${index}` } = spec;
    const bikes = spec.bikes.map((kind, k) => {
      const bike = { frameId: `p${index}f${k}` as FrameId, subject: 0 };
      judgements.set(bikeKeyOf(bike), { kind, reason: '' } as GoodFrameJudgement);
      metadata.set(`file ${bike.frameId}`, {
        exposure: { shutterS: shutter },
        lens: { focalLengthMm: focalMm },
      } as unknown as FileMetadata);
      exposures.push({
        frameId: bike.frameId,
        mainFile: `file ${bike.frameId}`,
        body: 'B|1|1',
        wall: wallMsOf(session * 30 * MINUTE + minute * MINUTE),
        role: 'bike',
        session,
        spot,
      } as unknown as Exposure);
      return bike;
    });
    return { index, session, spot, bikes, rider: rider as RiderKey } as unknown as Pass;
  });
  return {
    arrangement: { exposures, passes, sessions: SESSIONS, riders: [] } as unknown as Arrangement,
    judgements,
    pixels: new Map(),
    metadata,
    spotName: (spot) => NAMES[spot] ?? spot,
    stands: [],
    slots: [],
    keepers: { byRider: new Map() } as unknown as Keepers,
    plan: null,
    ...more,
  };
}

const times = (count: number, spec: PassSpec): readonly PassSpec[] => Array.from({ length: count }, () => spec);
const keeping = (...frames: readonly string[]): Keepers =>
  ({
    byRider: new Map([['r', frames.map((frameId) => ({ bike: { frameId, subject: 0 } }))]]),
  }) as unknown as Keepers;

test('RE1: a hit is sharp and whole; what could not be judged is counted beside, in no rate', () => {
  const { all, unsure } = debrief(dayOf([{ bikes: ['good', 'soft', 'cut', 'unsure'] }, { bikes: ['good'] }]));
  expect(all).toMatchObject({ bikes: 4, hits: 2, soft: 1, cut: 1, passes: 2 });
  expect(all!.share.share).toBe(0.5);
  expect(unsure).toBe(1);
  expect(all!.evidence.map(({ frameId }) => frameId)).toEqual(['p0f1', 'p0f2']);
});

test('RE2: forty frames of four passes say no more than four passes, and that they are few is said', () => {
  const four = debrief(dayOf(times(4, { bikes: Array.from({ length: 10 }, () => 'good') }))).all!;
  const forty = debrief(dayOf(times(40, { bikes: ['good'] }))).all!;
  expect([four.bikes, four.share.share, four.isFew]).toEqual([40, 1, true]);
  expect([forty.bikes, forty.share.share, forty.isFew]).toEqual([40, 1, false]);
  expect(four.share.from).toBeLessThan(0.55);
  expect(forty.share.from).toBeGreaterThan(0.9);
});

test('RE3: rates by shutter, spot, group, focal length and all four; what is not known is left out of its own table alone', () => {
  const found = debrief(
    dayOf([
      { bikes: ['good'], shutter: 1 / 320 },
      { bikes: ['soft'], shutter: 10 / 3205, session: 1 },
      { bikes: ['good'], shutter: 1 / 125, spot: null, focalMm: 195 },
    ]),
  );
  expect(found.byShutter.map(({ bikes, hits }) => [bikes, hits])).toEqual([
    [2, 1],
    [1, 1],
  ]);
  expect(found.bySpot.map(({ of, bikes }) => [of.spot, bikes])).toEqual([[BEACON, 2]]);
  expect(found.byGroup.map(({ of, bikes }) => [of.group, bikes])).toEqual([
    ['Fast', 1],
    ['Novice', 2],
  ]);
  expect(found.byFocalLength.map(({ of, bikes }) => [of.focalMm, bikes])).toEqual([[200, 3]]);
  expect(found.crossed).toHaveLength(2);
  for (const table of [found.byShutter, found.byGroup, found.byFocalLength])
    expect(table.reduce((sum, { bikes }) => sum + bikes, 0)).toBe(3);
});

test('RE3: hours are those of the circuit’s clock', () => {
  const { byHour } = debrief(dayOf([{ bikes: ['good'] }, { bikes: ['soft'], session: 2, minute: 4 }]));
  expect(byHour.map(({ hour, hits, bikes }) => [hour / (60 * MINUTE), hits, bikes])).toEqual([
    [0, 1, 1],
    [1, 0, 1],
  ]);
});

test('RE4: minutes are those said, of track time alone; two bodies at one spot are one person’s time', () => {
  const stand = { spot: BEACON, from: wallMsOf(-10 * MINUTE), to: wallMsOf(15 * MINUTE) };
  const input = dayOf([{ bikes: ['good'] }], {
    stands: [stand, { ...stand, from: wallMsOf(10 * MINUTE), to: wallMsOf(25 * MINUTE) }],
    keepers: keeping('p0f0'),
  });
  expect(debrief(input).spots).toMatchObject([
    { spot: BEACON, sessions: 1, minutes: 20, minutesFrom: 'said', keepers: 1, hits: 1, riders: 1 },
  ]);
});

test('RE4: minutes of the invented meeting are those of its sessions as they ran, added by hand', async () => {
  const { sessions, stands } = await readTruth();
  const ran = sessions.map(({ name, group, start, end }, index) => {
    const [from, to] = [start, end].map((at) => wallMsOf(Date.parse(`${at}Z`)));
    return { ...SESSIONS[0]!, index, name, slot: name, group, start: from!, end: to! };
  });
  const input = dayOf([]);
  const { spots } = debrief({
    ...input,
    arrangement: { ...input.arrangement, sessions: ran },
    stands: stands.map(({ spot, from, to }) => ({ spot, from, to })),
  });
  const minutesAt = Object.fromEntries(spots.map(({ spot, minutes }) => [spot, minutes]));
  expect(minutesAt).toEqual({
    // N1 19:50 and I1 26:55 by one body; N2 20:05 and I2 19:50 by the other after lunch.
    beacon: expect.closeTo(19 + 50 / 60 + 26 + 55 / 60 + 20 + 5 / 60 + 19 + 50 / 60, 6),
    // N1, I1, and F1 20:00.
    gannet: expect.closeTo(19 + 50 / 60 + 26 + 55 / 60 + 20, 6),
    // F1, N2 and I2.
    slipway: expect.closeTo(20 + 20 + 5 / 60 + 19 + 50 / 60, 6),
  });
});

test('RE4: a session lasts from its first frame as long as its slot, not into the next, and longer where frames show it', () => {
  const stand = { spot: BEACON, from: wallMsOf(0), to: wallMsOf(200 * MINUTE) };
  const minutesOf = (sessionMinutes: number, slotMinutes: number) => {
    const input = dayOf([{ bikes: ['good'] }], { stands: [stand], slots: [slot('N1', 0, slotMinutes)] });
    const [first, next] = SESSIONS;
    const sessions = [
      { ...first!, end: wallMsOf(sessionMinutes * MINUTE) },
      { ...next!, end: next!.start },
    ];
    return debrief({ ...input, arrangement: { ...input.arrangement, sessions } }).spots[0]!.minutes;
  };
  expect(minutesOf(17, 20)).toBe(20);
  expect(minutesOf(24, 20)).toBe(24);
  expect(minutesOf(17, 45), 'the next begins at 30').toBe(30);
});

test('RE4: without a word, from the first frame to the last of each session; a spot of one moment has no rate', () => {
  const input = dayOf(
    [
      { bikes: ['good'], minute: 2 },
      { bikes: ['good'], minute: 14 },
      { bikes: ['good'], spot: LANTERN },
    ],
    { keepers: keeping('p0f0', 'p2f0') },
  );
  expect(debrief(input).spots).toMatchObject([
    { spot: BEACON, minutes: 12, minutesFrom: 'frames', keepers: 1 },
    { spot: LANTERN, minutes: 0, keepers: 1, keepersAMinute: null },
  ]);
});

test('RE5: the range of keepers a minute is a score interval: it meets the rate’s own test at both ends', () => {
  const input = dayOf(
    [
      { bikes: ['good'], minute: 2 },
      { bikes: ['good'], minute: 14 },
    ],
    { keepers: keeping('p0f0', 'p1f0') },
  );
  const { rate, from, to } = debrief(input).spots[0]!.keepersAMinute!;
  expect(rate).toBeCloseTo(2 / 12, 12);
  for (const end of [from, to]) expect(Math.abs(2 - 12 * end) / Math.sqrt(12 * end)).toBeCloseTo(1.959964, 6);
});

test('RE5: keepers a minute agree with a second implementation', () => {
  // statsmodels 0.15.0, confint_poisson(count, minutes, method='score'), 2026-11-30.
  for (const [keepers, minutes, from, to] of [
    [0, 18, 0, 0.213414],
    [2, 12, 0.045706, 0.607749],
    [19, 57, 0.213407, 0.520654],
    [119, 112, 0.887982, 1.271317],
  ] as const) {
    const stand = { spot: BEACON, from: wallMsOf(0), to: wallMsOf(minutes * MINUTE) };
    const frames = Array.from({ length: Math.max(1, keepers) }, (_, i) => `p${i}f0`);
    const input = dayOf(times(frames.length, { bikes: ['good'] }), {
      stands: [stand],
      keepers: keeping(...frames.slice(0, keepers)),
    });
    const long = { ...SESSIONS[0]!, end: wallMsOf(minutes * MINUTE) };
    const found = debrief({ ...input, arrangement: { ...input.arrangement, sessions: [long] } }).spots[0]!;
    expect(found).toMatchObject({ keepers, minutes });
    expect(found.keepersAMinute!.from).toBeCloseTo(from, 6);
    expect(found.keepersAMinute!.to).toBeCloseTo(to, 6);
  }
});

test('RE2: one frame spans four fifths of all there is, and the first sentence says that it tells little', () => {
  const one = debrief(dayOf([{ bikes: ['good'] }]));
  expect(one.all!.share.to - one.all!.share.from).toBeGreaterThan(0.79);
  expect(howThingsStand(one)).toBe(
    'Of 1 bike in the frames 1 came out sharp and whole: 100 in 100, and 21 to 100 by their range. So few passes tell little.',
  );
  expect(howThingsStand(debrief(dayOf(times(10, { bikes: ['good'] }))))).not.toContain('tell little');
});

function slot(name: string, minute: number, minutes = 20): TimetableSlot {
  const [start, end] = [wallMsOf(minute * MINUTE), wallMsOf((minute + minutes) * MINUTE)];
  return { name, group: '', start, end } as TimetableSlot;
}

test('RE6: each planned session went as planned, elsewhere, or not at all; one without a plan says so', () => {
  const stays = [
    ['N1', BEACON],
    ['F1', LANTERN],
    ['F2', LANTERN],
  ] as const;
  const slots = [slot('N1', 0), slot('F1', 30), slot('N2', 60), slot('F2', 90)];
  const input = dayOf([{ bikes: ['good', 'soft'] }, { bikes: ['good'], session: 1 }, { bikes: ['good'], session: 2 }], {
    plan: {
      stays: stays.map(([stretch, spot]) => ({ photographer: 0, stretch, spot })),
      stretches: slots.map(({ name, group, start, end }) => ({
        name,
        slot: name,
        group,
        from: start,
        to: end,
        isSighting: false,
      })),
      slots,
      slotsNow: slots.map((one) => ({ ...one, start: wallMsOf(one.start + 7 * MINUTE) })),
    },
  });
  expect(debrief(input).asPlanned!.map(({ session, is, hits, movedMs }) => [session, is, hits, movedMs])).toEqual([
    ['N1', 'as-planned', 1, 7 * MINUTE],
    ['F1', 'elsewhere', 1, 7 * MINUTE],
    ['N2', 'not-planned', 1, 7 * MINUTE],
    ['F2', 'not-gone', 0, 7 * MINUTE],
  ]);
  expect(debrief(input).evidence.at(-1)!.sentence).toBe('Of 3 planned sessions 2 went otherwise: F1, F2.');
  expect(debrief(dayOf([])).asPlanned).toBeNull();
});

test('RE7: neighbouring shutters of one spot, group and lens are compared; apart only where the range of the difference leaves nought out', () => {
  const sure = times(30, { bikes: ['good', 'good'], shutter: 1 / 500 });
  const slow = times(30, { bikes: ['soft', 'soft'], shutter: 1 / 125 });
  const alike = times(12, { bikes: ['good', 'soft'], shutter: 1 / 500, session: 1 });
  const alsoAlike = times(12, { bikes: ['soft', 'good'], shutter: 1 / 250, session: 1 });
  const { compared } = debrief(dayOf([...sure, ...slow, ...alike, ...alsoAlike]));
  expect(compared.map(({ of, isApart }) => [of.group, isApart])).toEqual([
    ['Fast', false],
    ['Novice', true],
  ]);
  for (const { sentence } of compared) expect(sentence).not.toMatch(COMMANDS);
  expect(compared[1]!.sentence).toMatch(
    /^Beacon, Novice, about 200 mm: 1\/500, 60 of 60 \(\d+–100 %\); 1\/125, 0 of 60 \(0–\d+ %\)\. The slower one missed more\.$/,
  );
});

test('RE7: fewer than ten passes of either are not compared', () => {
  const specs = [
    ...times(30, { bikes: ['good'], shutter: 1 / 500 }),
    ...times(9, { bikes: ['soft'], shutter: 1 / 125 }),
  ];
  expect(debrief(dayOf(specs)).compared).toEqual([]);
});

test('RE8: where the slowest that was tried held, it is said that nothing slower is known, and nothing is told to do', () => {
  const { evidence } = debrief(dayOf(times(30, { bikes: ['good'], shutter: 1 / 250 })));
  expect(evidence).toMatchObject([{ is: 'slower-untried' }]);
  for (const { sentence } of evidence) expect(sentence).not.toMatch(COMMANDS);
  expect(evidence[0]!.sentence).toMatch(/held, and nothing slower was tried there\.$/);
  for (const few of [times(30, { bikes: ['soft'] }), times(9, { bikes: ['good', 'good'] })])
    expect(debrief(dayOf(few)).evidence).toEqual([]);
});

test('RE9: two spots are set against each other only where their ranges do not meet', () => {
  const specs = [
    ...times(40, { bikes: ['good'], minute: 1 }),
    { bikes: ['good'], minute: 19 },
    { bikes: ['good'], minute: 1, session: 1, spot: LANTERN },
    { bikes: ['good'], minute: 19, session: 1, spot: LANTERN },
  ] as const;
  const kept = Array.from({ length: 40 }, (_, i) => `p${i}f0`);
  const found = debrief(dayOf(specs, { keepers: keeping(...kept, 'p41f0') })).evidence;
  expect(found.find(({ is }) => is === 'spots-apart')?.sentence).toBe(
    'Beacon gave 40 keepers in 18 min, Lantern gave 1 keeper in 18 min.',
  );
  const even = debrief(dayOf(specs, { keepers: keeping('p0f0', 'p41f0') })).evidence;
  expect(even.some(({ is }) => is === 'spots-apart')).toBe(false);
});

test('RE10: meetings are compared by what both did alike, spots by name, and how many would differ by chance is said', () => {
  const first = debrief(dayOf(times(40, { bikes: ['soft'], shutter: 1 / 250 })));
  const second = debrief(
    dayOf([
      ...times(40, { bikes: ['good'], shutter: 1 / 250, spot: LANTERN }),
      ...times(3, { bikes: ['good'], shutter: 1 / 60, spot: BEACON }),
    ]),
  );
  const both = compareMeetings(
    { meeting: 'May', rates: first, spotName: () => 'Hairpin' },
    { meeting: 'June', rates: second, spotName: (spot) => (spot === LANTERN ? 'hairpin' : 'Chicane') },
  );
  expect(both.all).toMatchObject({ isApart: true });
  expect(both.tables.byShutter).toHaveLength(1);
  expect(both.tables.bySpot.map(({ before, after }) => [before.of.spot, after.of.spot])).toEqual([[BEACON, LANTERN]]);
  expect(both.tables.crossed[0]!.difference.from).toBeGreaterThan(0.7);
  expect(both.apartByChance).toBe(0);
});

test('RE11: a day without a judged bike has empty tables and no rates', () => {
  const found = debrief(dayOf([{ bikes: ['unsure'] }]));
  expect([found.all, found.crossed, found.evidence, found.byHour]).toEqual([null, [], [], []]);
});

import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../../../demo/circuit/ebbstone.js';
import type { BodyKey, GestureId, SpotId } from '../../../core/ids.js';
import type { Decision } from '../../../core/log/types.js';
import type { AskedDay } from '../../../core/plan/day/index.js';
import { millisecondsOf, type WallMs, wallMsOf } from '../../../core/units.js';
import { createFakeDay } from '../../../server/testing/fakeDay.js';
import { atClock, DAY, TIMETABLE } from '../../../server/testing/madeUpDay.js';
import { askedDayOf } from './askedDay.js';
import { fastestLapOf } from './fastestLap.js';
import { sheetDayOf } from './sheetOfDay.js';

let said = 0;
async function askedOn(date: string, ...more: readonly Decision[]): Promise<AskedDay> {
  const day = createFakeDay({ frames: 0, riders: 0, hasTimetable: false, hasStands: false });
  const byMs = Date.parse(date) - Date.parse(DAY);
  const moved = (at: WallMs) => wallMsOf(at + millisecondsOf(byMs));
  const slots = TIMETABLE.slots.map((slot) => ({ ...slot, start: moved(slot.start), end: moved(slot.end) }));
  await day.decide(`gesture-${++said}` as GestureId, [
    { kind: 'timetable', timetable: { ...TIMETABLE, slots } },
    { kind: 'circuit', circuit: EBBSTONE },
    ...more,
  ]);
  return askedDayOf(sheetDayOf(day.state(), { date, hasVehicle: false }), 0, false)!;
}

const partsAt = ({ problem, parts }: AskedDay, stretch: string, spot: string) =>
  parts[problem.stretches.findIndex(({ name }) => name === stretch)]![problem.spots.indexOf(spot as SpotId)]!;
const hasPart = (asked: AskedDay, stretch: string, spot: string, kind: string) =>
  partsAt(asked, stretch, spot).some((part) => part.kind === kind);

describe('what the solver is asked of a day', () => {
  it('PL533: under a high sun a spot without shade counts less; one with shade, a low sun, or an overcast sky costs nothing', async () => {
    const [summer, winter] = [await askedOn('2026-06-20'), await askedOn('2026-12-19')];
    expect(hasPart(summer, 'N4', 'beacon', 'no-shade')).toBe(true);
    expect(hasPart(summer, 'N4', 'slipway', 'no-shade')).toBe(false);
    expect(hasPart(winter, 'N4', 'beacon', 'no-shade')).toBe(false);
    const sky: Decision = { kind: 'sky', from: atClock(0), to: atClock(23), is: 'overcast' };
    const [clear, overcast] = [await askedOn(DAY), await askedOn(DAY, sky)];
    expect(hasPart(clear, 'F4', 'beacon', 'no-shade')).toBe(true);
    expect(hasPart(overcast, 'F4', 'beacon', 'no-shade')).toBe(false);
  });

  it('PL521: a lap is a guess from the fastest lap that somebody said, by the level of the group, else from the circuit’s record', async () => {
    const passesOf = (asked: AskedDay, stretch: string) =>
      partsAt(asked, stretch, 'gannet').find(({ kind }) => kind === 'passes')!.words;
    const recorded = await askedOn(DAY);
    // 1:35 × 1.14 for a good advanced rider, × 1.5 for novices: the multiples of practice.ts.
    expect(passesOf(recorded, 'F4')).toMatch(/at a lap of about 1:48 guessed from the fastest lap you said$/);
    expect(passesOf(recorded, 'N4')).toMatch(/at a lap of about 2:23 guessed from the fastest lap you said$/);
    const { fastestLapMs: _, ...unsaid } = TIMETABLE;
    const record = await askedOn(DAY, { kind: 'timetable', timetable: unsaid });
    expect(passesOf(record, 'F4')).toMatch(/guessed from the circuit’s lap record$/);
    const measured = createFakeDay({ frames: 0, riders: 0, hasStands: false });
    const { arrangement, ...state } = measured.state();
    const learnt = {
      ...state,
      timetable: unsaid,
      arrangement: { ...arrangement, calibration: { fastestLapMs: 90_000 } },
    };
    expect(fastestLapOf({ state: learnt, circuit: EBBSTONE })).toEqual({
      ms: 90_000,
      words: 'the fastest lap measured',
    });
    const { lapRecordMs: __, ...unknown } = EBBSTONE;
    const nobody = await askedOn(DAY, { kind: 'timetable', timetable: unsaid }, { kind: 'circuit', circuit: unknown });
    expect(passesOf(nobody, 'F4')).toMatch(/at a lap of 2 min that nobody said$/);
  });

  it('PL521: how a group’s pace suits a spot is one of the parts', async () => {
    expect(hasPart(await askedOn(DAY), 'F4', 'gannet', 'pace')).toBe(true);
  });

  it('PL602: bodies said to stand at two spots at once are planned for as two people, until the wishes say otherwise', async () => {
    const stood = (body: string, spot: string): Decision => ({
      kind: 'stood-at',
      spot: spot as SpotId,
      from: atClock(10),
      to: atClock(11),
      body: body as BodyKey,
    });
    const apart = [stood('first', 'beacon'), stood('second', 'gannet')];
    const alone: Decision = { kind: 'wishes', wishes: [], photographers: 1 };
    const plannedFor = async (...more: readonly Decision[]) => (await askedOn(DAY, ...more)).problem.photographers;
    expect(await plannedFor(apart[0]!)).toBe(1);
    expect(await plannedFor(stood('first', 'beacon'), stood('second', 'beacon'))).toBe(1);
    expect(await plannedFor(...apart)).toBe(2);
    expect(await plannedFor(alone, ...apart)).toBe(2);
    expect(await plannedFor(...apart, alone)).toBe(1);
    expect(await plannedFor(...apart, { kind: 'wishes', wishes: [] })).toBe(2);
  });

  it('PL340: a speed that a person said stands before guesses, and helps to guess those of other groups', async () => {
    const day = createFakeDay({ frames: 0, riders: 0, hasStands: false });
    await day.decide('said' as GestureId, [
      { kind: 'circuit', circuit: EBBSTONE },
      { kind: 'speed-at', spot: EBBSTONE.spots[1]!.id, group: 'F', kmh: 90 },
      { kind: 'speed-at', spot: EBBSTONE.spots[1]!.id, group: 'F', kmh: 104 },
    ]);
    const { answers } = sheetDayOf(day.state(), { date: DAY, hasVehicle: false });
    expect(answers!.settings(EBBSTONE.spots[1]!.id, 'F')!.speed).toEqual({ kind: 'said', kmh: 104 });
    expect(answers!.settings(EBBSTONE.spots[1]!.id, 'N')!.speed).toMatchObject({
      kind: 'guessed',
      from: 'word-about-another-group',
    });
    expect(answers!.settings(EBBSTONE.spots[0]!.id, 'F')!.speed.kind).toBe('guessed');
  });
});

import { describe, expect, it } from 'vitest';
import { buildDay, type PassSpec, wallAt } from '../../../../test/builders/arrangement.js';
import type { Arrangement } from '../../arrange/types.js';
import type { RiderKey, SpotId } from '../../ids.js';
import { millisecondsOf } from '../../units.js';
import { cover } from '../index.js';
import { type MorningInput, morningOf } from './index.js';

const [beacon, gannet, slipway] = ['beacon', 'gannet', 'slipway'] as unknown as readonly [SpotId, SpotId, SpotId];
const SPOTS = [beacon, gannet, slipway].map((id) => ({ id }));
const SESSIONS = [
  { name: 'N1', group: 'N', start: '09:00', end: '09:20' },
  { name: 'F1', group: 'F', start: '09:20', end: '09:40' },
  { name: 'N2', group: 'N', start: '10:00', end: '10:20' },
];

const pass = (rider: string, session: number, spot: SpotId, at: string, good = 1): PassSpec => ({
  rider,
  session,
  spot,
  at,
  frames: Array.from({ length: Math.max(1, good) }, () => ({ sharp: good === 0 ? 0.01 : 1 })),
});
/** Six with one good frame from Beacon each. */
const others = (session: number, minute: string): PassSpec[] =>
  ['u', 'v', 'w', 'x', 'y', 'z'].map((rider, i) => pass(rider, session, beacon, `${minute}:${10 + i}`));

function morning(passes: readonly PassSpec[], more: Partial<MorningInput> = {}, change = (a: Arrangement) => a) {
  const built = buildDay({ sessions: SESSIONS, passes });
  const arrangement = change(built.arrangement);
  const coverage = cover({
    arrangement,
    pixels: built.pixels,
    stands: [],
    spots: SPOTS,
    timetable: null,
    entries: null,
    now: null,
  });
  return morningOf({
    arrangement,
    coverage,
    spots: SPOTS,
    groups: [
      { key: 'N', name: 'Novice' },
      { key: 'F', name: 'Fast' },
    ],
    stands: [],
    fastestLapMs: millisecondsOf(100_000),
    booked: [],
    now: null,
    ...more,
  });
}

const lapOf = (times: readonly string[], more: Partial<MorningInput> = {}) =>
  morning(
    times.map((at) => pass('a', 0, beacon, at)),
    more,
  ).watch.find(({ rider }) => rider === ('a' as RiderKey))?.lap;

describe('the morning at lunch', () => {
  it('PL1201: counts riders of each group by the state of their arc at each spot, and sessions stood there', () => {
    const { groups } = morning([
      ...others(0, '09:05'),
      pass('a', 0, beacon, '09:06:00', 0),
      pass('f', 1, gannet, '09:25:00', 3),
    ]);
    expect(groups.map(({ group, riders }) => [group, riders])).toEqual([
      ['N', 7],
      ['F', 1],
    ]);
    expect(groups[0]!.spots[0]).toMatchObject({ spot: beacon, stood: 1, good: 6, unsure: 1, missed: 0, goodFrames: 6 });
    expect(groups[0]!.spots[1]).toMatchObject({ spot: gannet, stood: 0, good: 0, toCome: 7 });
  });

  it('PL1201: instructors are in no count, and riders of no known group come last', () => {
    const { groups, watch, owed } = morning([...others(0, '09:05'), pass('a', 1, gannet, '09:25:00')], {}, (day) => ({
      ...day,
      riders: day.riders.map((rider) =>
        rider.key === 'u' ? { ...rider, isInstructor: true } : rider.key === 'a' ? { ...rider, group: null } : rider,
      ),
    }));
    expect(groups.map(({ group, riders }) => [group, riders])).toEqual([
      ['N', 5],
      ['F', 0],
      [null, 1],
    ]);
    expect(watch.map(({ rider }) => rider)).not.toContain('u');
    expect(owed).toHaveLength(5);
  });

  it('PL1202: three spots and eight good frames are enough; fewer of either are not', () => {
    const day = (frames: number, spots: readonly SpotId[]) =>
      morning([
        ...others(0, '09:05'),
        ...spots.map((spot, i) => pass('a', 0, spot, `09:0${6 + i}:30`, i === 0 ? frames - spots.length + 1 : 1)),
      ]).groups[0]!.enough;
    expect(day(8, [beacon, gannet, slipway])).toEqual(['a']);
    expect(day(7, [beacon, gannet, slipway])).toEqual([]);
    expect(day(12, [beacon, gannet])).toEqual([]);
  });

  it('PL1203: a lap is told from two gaps that agree', () => {
    expect(lapOf(['09:02:00', '09:04:30', '09:07:01'])).toEqual({ ms: 150_500, laps: 2 });
    expect(lapOf(['09:02:00', '09:04:30'])).toBeNull();
  });

  it('PL1203: two laps are not taken for one, nor a gap shorter than the fastest lap', () => {
    expect(lapOf(['09:02:00', '09:07:00', '09:12:00'])).toBeNull();
    expect(lapOf(['09:02:00', '09:03:00', '09:04:00'])).toBeNull();
    expect(lapOf(['09:02:00', '09:04:30', '09:07:00', '09:12:00'])).toEqual({ ms: 150_000, laps: 2 });
  });

  it('PL1203: without a fastest lap none is told', () => {
    expect(lapOf(['09:02:00', '09:04:30', '09:07:01'], { fastestLapMs: null })).toBeNull();
  });

  it('PL1203: a group’s lap is the middle of its riders’', () => {
    const laps = (rider: string, gapS: number) =>
      [0, 1, 2].map((k) => {
        const s = 120 + k * gapS;
        return pass(
          rider,
          0,
          beacon,
          `09:${String(Math.floor(s / 60)).padStart(2, '0')}:${String(s % 60).padStart(2, '0')}`,
        );
      });
    expect(morning([...laps('a', 120), ...laps('b', 130), ...laps('c', 170)]).groups[0]!.lap).toEqual({
      ms: 130_000,
      laps: 6,
    });
  });

  it('PL1204: a head count leaves who was not found; without estimates nothing is said', () => {
    const passes = others(0, '09:05');
    const built = buildDay({ sessions: SESSIONS, passes });
    const counted = cover({
      ...built,
      stands: [],
      spots: SPOTS,
      timetable: null,
      entries: null,
      now: null,
      headCounts: [{ at: wallAt('09:00:00'), group: 'N', riders: 9 }],
    });
    const { groups } = morning(passes, { coverage: counted });
    expect(groups[0]!.neverShown!.from).toBeLessThanOrEqual(3);
    expect(groups[0]!.neverShown!.to).toBeGreaterThanOrEqual(3);
    expect(groups[1]!.neverShown).toBeNull();
  });

  it('PL1205: where more good frames were had the yield is greater; where nothing was it is the group’s', () => {
    const { yields } = morning([
      ...[0, 1, 2, 3, 4, 5].flatMap((i) => [
        pass(`r${i}`, 0, beacon, `09:0${2 + i}:00`, 4),
        pass(`r${i}`, 2, gannet, `10:0${2 + i}:00`, 1),
      ]),
    ]);
    const at = (spot: SpotId | null) => yields.find((one) => one.group === 'N' && one.spot === spot)?.framesAMinute;
    expect(at(beacon)!).toBeGreaterThan(at(gannet)!);
    expect(at(null)!).toBeGreaterThan(at(gannet)!);
    expect(at(slipway)).toBeUndefined();
  });

  it('PL1206: whoever has not enough is looked for, clients first, then who is owed most', () => {
    const { watch } = morning(
      [...others(0, '09:05'), pass('a', 0, beacon, '09:07:00', 0), pass('b', 0, beacon, '09:08:00', 6)],
      { booked: [{ group: 'N', number: '7', wants: 'knee down' }] },
      (day) => ({ ...day, riders: day.riders.map((rider) => (rider.key === 'b' ? { ...rider, number: '7' } : rider)) }),
    );
    expect(watch.slice(0, 2).map(({ rider, why, wants }) => [rider, why, wants])).toEqual([
      ['b', '6 good frames, from 1 spot', 'knee down'],
      ['a', 'no good frame yet', undefined],
    ]);
    expect(watch[1]!.missed).toEqual([beacon]);
  });

  it('PL1207: a rider seldom seen is thought to come into pictures less often, but never not at all', () => {
    const { owed } = morning([...others(0, '09:05'), ...others(2, '10:05'), pass('a', 0, beacon, '09:07:00')]);
    const often = (rider: string) => owed.find((one) => one.rider === rider)!.often;
    expect(often('a')).toBeLessThan(often('u'));
    // Nothing but what is believed beforehand: 4 ÷ (4 ÷ 0.92), with two passes of about two more or less.
    expect(often('a')).toBeGreaterThan(0.6);
    expect(often('u')).toBeLessThan(1.2);
  });

  it('PL1205: a spot whose frames were hardly ever good was spoiled; nothing is learnt of it but what the group gives', () => {
    const soft = (i: number) => ({
      ...pass(`r${i}`, 2, gannet, `10:0${2 + i}:00`, 4),
      frames: [0.1, 0.1, 0.1, 0.1].map((sharp) => ({ sharp })),
    });
    const sharp = [0, 1, 2, 3, 4, 5].map((i) => pass(`r${i}`, 0, beacon, `09:0${2 + i}:00`, 4));
    const { yields } = morning([...sharp, ...[0, 1, 2, 3, 4, 5].map(soft)]);
    expect(yields.map(({ spot }) => spot)).toEqual([null, beacon]);
  });

  it('PL1205: where a group was not photographed it gives what others gave there, against the day', () => {
    const { yields } = morning([
      ...[0, 1, 2, 3, 4, 5].flatMap((i) => [
        pass(`n${i}`, 0, beacon, `09:0${2 + i}:00`, 4),
        pass(`f${i}`, 1, gannet, `09:2${2 + i}:00`, 1),
      ]),
    ]);
    const at = (group: string, spot: SpotId) =>
      yields.find((one) => one.group === group && one.spot === spot)!.framesAMinute;
    expect(at('N', gannet)).toBeLessThan(at('N', beacon));
    expect(at('F', beacon)).toBeGreaterThan(at('F', gannet));
  });

  it('PL1207: how unlike riders come into pictures is measured by how many go empty at the same mean', () => {
    const twelve = (good: readonly number[]) =>
      morning(good.map((frames, i) => pass(`r${i}`, 0, beacon, `09:${String(2 + i).padStart(2, '0')}:00`, frames)))
        .spread;
    const alike = twelve([1, 2, 1, 2, 1, 2, 1, 2, 1, 2, 1, 2]);
    const unlike = twelve([0, 0, 0, 0, 0, 0, 3, 3, 3, 3, 3, 3]);
    expect(alike).toBeGreaterThan(unlike);
    expect(morning([]).spread).toBe(4);
  });
});

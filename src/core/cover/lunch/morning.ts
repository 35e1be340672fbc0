/** The morning as it stands at lunch: rules PL1201–PL1206. */
import type { Arrangement, Rider } from '../../arrange/types.js';
import type { RiderKey, SpotId } from '../../ids.js';
import { AFTERNOON_AIM, type OwedRider } from '../../plan/lunch/index.js';
import type { Group, Stand } from '../../plan/types.js';
import { type Milliseconds, unitIntervalOf, type WallMs } from '../../units.js';
import { sessionsOf, stoodAt } from '../stands.js';
import type { Coverage, RiderCoverage, Unseen } from '../types.js';
import { type LapsOfRiders, lapOfGroup, lapsOf } from './laps.js';
import type { GroupAtSpot, GroupMorning, Morning, Watched } from './types.js';
import { yieldsOf } from './yields.js';

export interface MorningInput {
  readonly arrangement: Arrangement;
  readonly coverage: Coverage;
  /** As the wheel shows them. */
  readonly spots: readonly { readonly id: SpotId }[];
  readonly groups: readonly Group[];
  readonly stands: readonly Stand[];
  /** Null: nobody said and nothing was learnt; then no lap is told. */
  readonly fastestLapMs: Milliseconds | null;
  /** What clients booked, by group and number. */
  readonly booked: readonly { readonly group: string; readonly number: string; readonly wants: string }[];
  readonly now: WallMs | null;
}

interface Known extends MorningInput {
  readonly laps: LapsOfRiders;
  readonly coverageOf: ReadonlyMap<RiderKey, RiderCoverage>;
  /** Instructors are in no count. */
  readonly riders: readonly Rider[];
}

export function morningOf(input: MorningInput): Morning {
  const { arrangement, coverage, fastestLapMs, groups } = input;
  const riders = arrangement.riders.filter(({ isInstructor, passes }) => isInstructor !== true && passes.length > 0);
  const known: Known = {
    ...input,
    riders,
    laps: lapsOf(arrangement, fastestLapMs),
    coverageOf: new Map(coverage.riders.map((one) => [one.rider, one])),
  };
  const keys = new Set<string | null>(groups.map(({ key }) => key));
  const others = riders.filter(({ group }) => !keys.has(group));
  return {
    groups: [
      ...groups.map(({ key }) =>
        groupMorning(
          known,
          key,
          riders.filter(({ group }) => group === key),
        ),
      ),
      ...(others.length === 0 ? [] : [groupMorning(known, null, others)]),
    ],
    watch: watchList(known),
    neverSeen: coverage.neverSeen,
    owed: riders.flatMap((rider) => owedOf(known, rider)),
    yields: yieldsOf(arrangement, coverage, new Set(riders.map(({ key }) => key))),
  };
}

function groupMorning(known: Known, group: string | null, riders: readonly Rider[]): GroupMorning {
  const covers = riders.flatMap(({ key }) => known.coverageOf.get(key) ?? []);
  const unseen = group === null ? [] : (known.coverage.unseen ?? []).filter((one) => one.group === group);
  return {
    group,
    riders: riders.length,
    spots: known.spots.map(({ id }) => groupAtSpot(known, group, id, covers)),
    thin: covers
      .filter(({ isThin }) => isThin)
      .toSorted((a, b) => a.goodFrames - b.goodFrames || a.frames - b.frames)
      .map(({ rider }) => rider),
    enough: covers.filter((one) => hasEnough(one)).map(({ rider }) => rider),
    unseen,
    neverShown: neverShownOf(group, riders, unseen),
    lap: lapOfGroup(riders, known.laps),
  };
}

const spotsWithGood = ({ wheel }: RiderCoverage): readonly SpotId[] =>
  wheel.flatMap(({ spot, goodFrames }) => (goodFrames > 0 ? [spot] : []));

const hasEnough = (one: RiderCoverage): boolean =>
  spotsWithGood(one).length >= AFTERNOON_AIM.spots && one.goodFrames >= AFTERNOON_AIM.goodFrames;

function groupAtSpot(
  { arrangement, stands, now }: Known,
  group: string | null,
  spot: SpotId,
  covers: readonly RiderCoverage[],
): GroupAtSpot {
  const arcs = covers.flatMap(({ wheel }) => wheel.filter((arc) => arc.spot === spot));
  const count = (state: (typeof arcs)[number]['state']) => arcs.filter((arc) => arc.state === state).length;
  const stood = stoodAt(arrangement, stands, now).filter(
    (one) => one.spot === spot && (arrangement.sessions[one.session]?.group ?? null) === group,
  );
  return {
    spot,
    stood: stood.length,
    good: count('good'),
    unsure: count('unsure'),
    missed: count('missed'),
    toCome: count('to-come'),
    goodFrames: arcs.reduce((sum, { goodFrames }) => sum + goodFrames, 0),
  };
}

/**
 * Riders whom the whole morning does not show. A session's range holds those missed in it, most of whom another session shows;
 * whoever misses one of two by the same chance misses both by its square.
 */
function neverShownOf(
  group: string | null,
  riders: readonly Rider[],
  unseen: readonly Unseen[],
): GroupMorning['neverShown'] {
  const counted = unseen.filter(({ source }) => source === 'head-count').at(-1);
  if (counted !== undefined && counted.contradicts === undefined) {
    const head = counted.seen + (counted.fromRiders + counted.toRiders) / 2;
    const doubt = (counted.toRiders - counted.fromRiders) / 2;
    const left = head - riders.length;
    return {
      from: Math.max(0, Math.floor(left - doubt)),
      to: Math.max(0, Math.ceil(left + doubt)),
      reason: counted.reason,
    };
  }
  if (group === null || unseen.length === 0) return null;
  const share = (pick: (one: Unseen) => number): number =>
    unseen.reduce((product, one) => (product * pick(one)) / Math.max(1, one.seen + pick(one)), 1);
  const [least, most] = [share(({ fromRiders }) => fromRiders), share(({ toRiders }) => toRiders)];
  const of = (missed: number): number => (riders.length * missed) / Math.max(1e-9, 1 - missed);
  return {
    from: Math.floor(of(least)),
    to: Math.ceil(of(Math.min(0.9, most))),
    reason: `Worked out from ${unseen.length === 1 ? 'one session' : `${unseen.length} sessions`}: ${unseen.at(-1)!.reason}`,
  };
}

/** How often riders of a group go out, and how firmly that is believed before their sessions are looked at. */
const USUALLY_OUT = 0.92;
const USUAL_SESSIONS = 3;

/** A rider not seen in a session may have been out and missed: that is weighed by how many of the others were. */
function owedOf(known: Known, rider: Rider): readonly OwedRider[] {
  const { group } = rider;
  const cover = known.coverageOf.get(rider.key);
  if (group === null || cover === undefined) return [];
  const seenIn = new Set(rider.passes.map((index) => known.arrangement.passes[index]!.session));
  const shown = [...sessionsOf(rider, known.arrangement)].filter((index) => hasPictures(known.arrangement, index));
  const outs = shown.map((index) => (seenIn.has(index) ? 1 : outThoughMissed(known.coverage.unseen ?? [], index)));
  const out = outs.reduce((sum, one) => sum + one, USUALLY_OUT * USUAL_SESSIONS) / (outs.length + USUAL_SESSIONS);
  const good = cover.wheel.flatMap(({ spot, goodFrames }) => (goodFrames > 0 ? [[spot, goodFrames] as const] : []));
  return [{ rider: rider.key, group, isOut: unitIntervalOf(out), good: new Map(good) }];
}

const hasPictures = ({ passes }: Arrangement, index: number): boolean =>
  passes.some(({ session }) => session === index);

function outThoughMissed(unseen: readonly Unseen[], index: number): number {
  const one = unseen.find(({ session }) => session === index);
  const missed = one === undefined ? 0.2 : (one.fromRiders + one.toRiders) / 2;
  const share = one === undefined ? missed : missed / Math.max(1, one.seen + missed);
  return (USUALLY_OUT * share) / (USUALLY_OUT * share + 1 - USUALLY_OUT);
}

/** Clients first, then who is owed most: of the spots and of the good frames that are enough, each in full. */
function watchList(known: Known): readonly Watched[] {
  const { spots: enoughSpots, goodFrames: enoughFrames } = AFTERNOON_AIM;
  const owed = (one: Watched): number =>
    Math.max(0, enoughSpots - one.spots.length) / enoughSpots +
    Math.max(0, enoughFrames - one.goodFrames) / enoughFrames;
  return known.riders
    .flatMap((rider) => watchedOf(known, rider))
    .toSorted(
      (a, b) =>
        Number(b.wants !== undefined) - Number(a.wants !== undefined) ||
        owed(b) - owed(a) ||
        a.goodFrames - b.goodFrames ||
        a.rider.localeCompare(b.rider, 'en'),
    );
}

function watchedOf(known: Known, rider: Rider): readonly Watched[] {
  const one = known.coverageOf.get(rider.key);
  if (one === undefined || hasEnough(one)) return [];
  const spots = spotsWithGood(one);
  const wants = known.booked.find(
    ({ group, number }) => number === rider.number && rider.groups.includes(group),
  )?.wants;
  return [
    {
      rider: rider.key,
      group: rider.group,
      goodFrames: one.goodFrames,
      spots,
      missed: one.wheel.flatMap(({ spot, state }) => (state === 'missed' || state === 'unsure' ? [spot] : [])),
      lap: known.laps.get(rider.key) ?? null,
      why: whyWatched(one.goodFrames, spots.length),
      ...(wants === undefined ? {} : { wants }),
    },
  ];
}

const whyWatched = (frames: number, spots: number): string =>
  frames === 0
    ? 'no good frame yet'
    : `${frames} good ${frames === 1 ? 'frame' : 'frames'}, from ${spots} ${spots === 1 ? 'spot' : 'spots'}`;

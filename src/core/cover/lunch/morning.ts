/** The morning as it stands at lunch: rules PL1201–PL1206. */
import type { Arrangement, Rider } from '../../arrange/types.js';
import type { RiderKey, SpotId } from '../../ids.js';
import { AFTERNOON_AIM, type OwedRider } from '../../plan/lunch/index.js';
import type { Group, Stand } from '../../plan/types.js';
import type { Milliseconds, WallMs } from '../../units.js';
import { sessionsOf, stoodAt } from '../stands.js';
import type { Coverage, RiderCoverage, Unseen } from '../types.js';
import { type LapsOfRiders, lapOfGroup, lapsOf } from './laps.js';
import { spreadOf } from './spread.js';
import type { GroupAtSpot, GroupMorning, Morning, Watched } from './types.js';
import { yieldCells, yieldsOf } from './yields.js';

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
  readonly usualPasses: (session: number) => number;
}

export function morningOf(input: MorningInput): Morning {
  const { arrangement, coverage, fastestLapMs, groups } = input;
  const riders = arrangement.riders.filter(({ isInstructor, passes }) => isInstructor !== true && passes.length > 0);
  const known: Known = {
    ...input,
    riders,
    usualPasses: usualPassesOf(arrangement, riders, coverage.unseen ?? []),
    laps: lapsOf(arrangement, fastestLapMs),
    coverageOf: new Map(coverage.riders.map((one) => [one.rider, one])),
  };
  const keys = new Set<string | null>(groups.map(({ key }) => key));
  const others = riders.filter(({ group }) => !keys.has(group));
  const ofGroups = groups.map(({ key }) =>
    groupMorning(
      known,
      key,
      riders.filter(({ group }) => group === key),
    ),
  );
  const counted = new Set(riders.map(({ key }) => key));
  const cells = yieldCells(arrangement, coverage, counted);
  const yields = yieldsOf(cells, arrangement, coverage, counted);
  const owed = riders.flatMap((rider) => owedOf(known, rider));
  const neverShown = neverShownIn(ofGroups);
  return {
    groups: [...ofGroups, ...(others.length === 0 ? [] : [groupMorning(known, null, others)])],
    watch: watchList(known),
    neverSeen: coverage.neverSeen,
    owed,
    yields,
    neverShown,
    spread: spreadOf(cells, owed, neverShown, yields[0]?.framesAPass ?? 1),
  };
}

/** Of each group: the middle of the range. */
const neverShownIn = (groups: readonly GroupMorning[]): ReadonlyMap<string, number> =>
  new Map(
    groups.flatMap(({ group, neverShown }) =>
      group === null || neverShown === null ? [] : [[group, (neverShown.from + neverShown.to) / 2] as const],
    ),
  );

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

/** How often a rider of a group comes into pictures, and in how many passes' worth that is believed before the own are counted. */
const USUALLY_OUT = 0.92;
const USUAL_PASSES = 4;

/**
 * Riders differ in how often they are out and seen. Passes in pictures against what a rider of the group had who was out all the time:
 * a Poisson rate with a gamma prior, as with the yields.
 */
function owedOf(known: Known, rider: Rider): readonly OwedRider[] {
  const { group } = rider;
  const cover = known.coverageOf.get(rider.key);
  if (group === null || cover === undefined) return [];
  const usual = [...sessionsOf(rider, known.arrangement)].reduce((sum, index) => sum + known.usualPasses(index), 0);
  const often = (rider.passes.length + USUAL_PASSES) / (usual + USUAL_PASSES / USUALLY_OUT);
  const good = cover.wheel.flatMap(({ spot, goodFrames }) => (goodFrames > 0 ? [[spot, goodFrames] as const] : []));
  return [{ rider: rider.key, group, often, good: new Map(good) }];
}

/** Passes in pictures of a rider who was out in the session, those thought missed among them. */
function usualPassesOf({ passes }: Arrangement, riders: readonly Rider[], unseen: readonly Unseen[]) {
  const counts = new Map<number, { passes: number; riders: number }>();
  for (const rider of riders) {
    const own = rider.passes.map((index) => passes[index]!.session);
    for (const session of own) {
      const count = counts.get(session) ?? { passes: 0, riders: 0 };
      counts.set(session, { ...count, passes: count.passes + 1 });
    }
    for (const session of new Set(own)) counts.get(session)!.riders += 1;
  }
  return (session: number): number => {
    const count = counts.get(session);
    const one = unseen.find((each) => each.session === session);
    const missed = one === undefined ? 0 : (one.fromRiders + one.toRiders) / 2;
    return count === undefined ? 0 : count.passes / (count.riders + missed);
  };
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

/** Who is on the track when: riders, the day as planned and as run, and every time somebody goes by a spot. */
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import type { Timetable } from '../../src/core/plan/types.js';
import { millisecondsOf, wallMsOf } from '../../src/core/units.js';
import type { DayOptions, GroupOptions } from './options.js';

export interface SimulatedRider {
  readonly key: string;
  readonly groups: readonly [morning: string, afternoon: string];
  readonly lapS: number;
  readonly lapSpread: number;
  /** Number of the hire fleet, −1 for an own bike. */
  readonly fleet: number;
  readonly changesDress: boolean;
  /** Who else rides this bike, as an index among the riders; −1 for nobody. */
  readonly sharesBikeOf: number;
  /** How often photographers pick this rider out, 1 is ordinary. */
  readonly interest: number;
  /** Goes out with every group, at its pace. */
  readonly isInstructor: boolean;
}

export interface SimulatedSession {
  readonly name: string;
  readonly group: string;
  readonly isAfternoon: boolean;
  readonly round: number;
  /** As run, corrected wall time in milliseconds. */
  readonly start: number;
  readonly end: number;
  /** Nobody moves then: a red flag. */
  readonly stopped: readonly [from: number, to: number] | null;
}

export interface GoingBy {
  readonly rider: number;
  readonly wall: number;
  /** Unique in the day and spot. */
  readonly pass: string;
}

const MINUTE = 60_000;
/** Share of sessions an instructor is out in. */
const INSTRUCTOR_GOES_OUT = 0.6;
/** 2031-05-17 09:00 on the wall. */
export const DAY_START = Date.UTC(2031, 4, 17, 9);

export function makeRiders(options: DayOptions): readonly SimulatedRider[] {
  const random = seededRandom(options.seed * 7919 + 17);
  const riders = options.groups.flatMap((group, g) =>
    Array.from({ length: group.riders }, (_, i) => makeRider(options, group, g, i, random)),
  );
  return [...withSharedBikes(options, riders), ...makeInstructors(options)];
}

/** The first riders of the first two groups share: they are never out together. */
function withSharedBikes(o: DayOptions, riders: readonly SimulatedRider[]): readonly SimulatedRider[] {
  const [first, second] = o.groups;
  if (o.sharedBikes === undefined || first === undefined || second === undefined) return riders;
  const isAtHome = ({ groups: [morning, afternoon] }: SimulatedRider, key: string): boolean =>
    morning === key && afternoon === key;
  const of = (key: string): readonly number[] =>
    riders.flatMap((rider, i) => (isAtHome(rider, key) && rider.fleet < 0 ? [i] : [])).slice(0, o.sharedBikes);
  const seconds = of(second.key);
  const sharing = new Map(
    of(first.key).flatMap((i, k) => (seconds[k] === undefined ? [] : [[seconds[k], i] as const])),
  );
  return riders.map((rider, i) => ({ ...rider, sharesBikeOf: sharing.get(i) ?? -1 }));
}

function makeInstructors(o: DayOptions): readonly SimulatedRider[] {
  const random = seededRandom(o.seed * 6007 + 23);
  return Array.from({ length: o.instructors ?? 0 }, (_, i) => {
    const { key } = o.groups[i % o.groups.length]!;
    const plain = { fleet: -1, changesDress: false, sharesBikeOf: -1, interest: 1, isInstructor: true };
    const lapS = o.fastestLapS * random.between(1.15, 1.25);
    return { key: `instructor${i + 1}`, groups: [key, key], lapS, lapSpread: random.between(0.01, 0.02), ...plain };
  });
}

function makeRider(o: DayOptions, group: GroupOptions, g: number, i: number, random: Random): SimulatedRider {
  const pace = Math.max(1.03, group.pace + group.paceSpread * random.normal());
  const changes = o.groups.length > 1 && random.chance(o.groupChangeShare);
  const other = g === 0 ? 1 : g === o.groups.length - 1 ? g - 1 : g + (random.chance(0.5) ? 1 : -1);
  return {
    key: `${group.key}${i + 1}`,
    groups: [group.key, changes ? o.groups[other]!.key : group.key],
    lapS: o.fastestLapS * pace,
    lapSpread: random.between(0.01, 0.02),
    fleet: random.chance(o.fleetShare) ? random.integer(0, 1) : -1,
    changesDress: random.chance(o.dressChangeShare),
    sharesBikeOf: -1,
    interest: Math.exp(0.3 * random.normal()),
    isInstructor: false,
  };
}

export function planDay(o: DayOptions): Timetable {
  return {
    groups: o.groups.map(({ key, name }) => ({ key, name })),
    slots: Array.from({ length: o.days ?? 1 }, (_, day) => slotsOfDay(o, day)).flat(),
    slipRule: o.slipRule,
    ...(o.saysFastestLap === false ? {} : { fastestLapMs: millisecondsOf(o.fastestLapS * 1000) }),
  };
}

const DAY = 24 * 60 * MINUTE;

/** Rounds of a second day count on from the first; sighting laps are ridden once. */
function slotsOfDay(o: DayOptions, day: number): readonly Timetable['slots'][number][] {
  const slots: Timetable['slots'][number][] = [];
  let at = DAY_START + day * DAY;
  if (o.hasSightingLaps && day === 0)
    for (const { key } of o.groups) {
      slots.push(slot(`${key}0`, key, at, 10 * MINUTE, true));
      at += 10 * MINUTE;
    }
  for (let round = 1; round <= o.rounds; round++) {
    for (const { key } of o.groups) {
      slots.push(slot(`${key}${day * o.rounds + round}`, key, at, o.sessionMinutes * MINUTE, false));
      at += o.sessionMinutes * MINUTE;
    }
    if (round === o.lunchAfterRound) at += 60 * MINUTE;
  }
  return slots;
}

const slot = (name: string, group: string, at: number, length: number, isSighting: boolean) => ({
  name,
  group,
  start: wallMsOf(at),
  end: wallMsOf(at + length),
  ...(isSighting ? { isSighting } : {}),
});

/** The day as it ran: clock-fixed loses held minutes, sliding moves everything behind, and lunch takes up slip. */
export function runDay(o: DayOptions, plan: Timetable): readonly SimulatedSession[] {
  let slip = 0;
  return plan.slots.map((planned, i) => {
    const sinceMorning = (planned.start - DAY_START) % DAY;
    const before = plan.slots[i - 1];
    const pause = before === undefined ? 0 : planned.start - before.end;
    slip = o.slipRule === 'sliding' ? Math.max(0, slip - pause) : 0;
    const hold = (o.holds.find(({ slot: name }) => name === planned.name)?.minutes ?? 0) * MINUTE;
    const start = planned.start + slip + hold;
    if (o.slipRule === 'sliding') slip += hold;
    const flag = o.redFlags.find(({ slot: name }) => name === planned.name);
    const flagAt = flag === undefined ? 0 : start + flag.afterMinutes * MINUTE;
    let end = planned.end + slip - o.changeMinutes * MINUTE;
    if (flag !== undefined && !flag.resumes) end = Math.min(end, flagAt);
    if (flag?.resumes === true && o.slipRule === 'sliding') {
      slip += flag.minutes * MINUTE;
      end += flag.minutes * MINUTE;
    }
    return {
      name: planned.name,
      group: planned.group,
      isAfternoon: sinceMorning > lunchOffset(o) && hasAfternoon(o),
      round: Number(planned.name.slice(1)),
      start,
      end,
      stopped: flag?.resumes === true ? [flagAt, flagAt + flag.minutes * MINUTE] : null,
    };
  });
}

const hasAfternoon = (o: DayOptions): boolean => o.rounds > o.lunchAfterRound;

const lunchOffset = (o: DayOptions): number =>
  MINUTE *
  ((o.hasSightingLaps ? 10 * o.groups.length : 0) + o.lunchAfterRound * o.groups.length * o.sessionMinutes + 1);

/** Everybody going by each spot in one session, in order of time. `spotAt` are shares of a lap. */
export function runSession(
  o: DayOptions,
  session: SimulatedSession,
  index: number,
  riders: readonly SimulatedRider[],
  spotAt: readonly number[],
): readonly (readonly GoingBy[])[] {
  const random = seededRandom(o.seed * 104_729 + index * 613 + 5);
  const half = session.isAfternoon ? 1 : 0;
  const starters = riders
    .map((rider, i) => ({ rider, i }))
    .filter(({ rider }) => !rider.isInstructor)
    .filter(({ rider }) => rider.groups[half] === session.group && !random.chance(o.sittingOutShare));
  starters.push(...instructorsOut(o, session, index, riders));
  const bySpot: GoingBy[][] = spotAt.map(() => []);
  let out = session.start + 1000 * random.between(15, 30);
  for (const { rider, i } of random.shuffled(starters)) {
    out += 1000 * random.exponential(2.5);
    rideSession(o, session, index, rider, i, out, spotAt, random, bySpot);
  }
  for (const events of bySpot) events.sort((a, b) => a.wall - b.wall || a.rider - b.rider);
  return bySpot;
}

/** Instructors ride at the pace of the group they lead. */
function instructorsOut(
  o: DayOptions,
  session: SimulatedSession,
  index: number,
  riders: readonly SimulatedRider[],
): { rider: SimulatedRider; i: number }[] {
  const random = seededRandom(o.seed * 8011 + index * 401 + 9);
  const pace = o.groups.find(({ key }) => key === session.group)!.pace;
  return riders
    .map((rider, i) => ({ rider: { ...rider, lapS: o.fastestLapS * pace * random.between(0.97, 1.05) }, i }))
    .filter(({ rider }) => rider.isInstructor && random.chance(INSTRUCTOR_GOES_OUT));
}

function rideSession(
  o: DayOptions,
  session: SimulatedSession,
  index: number,
  rider: SimulatedRider,
  i: number,
  out: number,
  spotAt: readonly number[],
  random: Random,
  bySpot: GoingBy[][],
): void {
  const usualLap = 1000 * rider.lapS * (1 + 0.012 * random.normal());
  let at = out + (random.chance(0.12) ? 1000 * random.between(60, 300) : 0);
  const length = session.end - session.start;
  const leaves = session.start + (random.chance(0.15) ? random.between(0.4, 0.9) : 1) * length;
  const pitLap = random.chance(o.pitInShare) ? random.integer(2, 4) : -1;
  for (let lap = 0; at < leaves; lap++) {
    const traffic = random.chance(0.15) ? 1000 * random.exponential(3) : 0;
    const lapMs = Math.max(
      0.97 * usualLap,
      usualLap * (1 + rider.lapSpread * random.normal()) * (lap === 0 ? 1.12 : 1),
    );
    spotAt.forEach((share, spot) => {
      const wall = at + share * (lapMs + traffic);
      const isStopped = session.stopped !== null && wall > session.stopped[0] && at < session.stopped[1];
      if (isStopped || wall > session.end + 30_000) return;
      bySpot[spot]!.push({ rider: i, wall, pass: `${index}/${i}/${lap}/${spot}` });
    });
    at += lapMs + traffic;
    if (session.stopped !== null && at > session.stopped[0] && at < session.stopped[1])
      at = session.stopped[1] + 1000 * random.between(15, 90);
    if (lap === pitLap) at += 1000 * random.between(60, 200);
  }
}

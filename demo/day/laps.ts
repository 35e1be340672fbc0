/** Laps of a session: who passes which spot when. A bike returns a lap later, never sooner. */
import type { WallMs } from '../../src/core/units.js';
import type { Random } from '../render/noise.js';
import type { FieldRider } from './field.js';
import { FASTEST_LAP_S, LAP_SHARE, type RealSession, type SpotName } from './meeting.js';

export interface PassBy {
  readonly rider: FieldRider;
  /** Seconds after the session's start. */
  readonly at: number;
  /** Slower than usual: sighting laps, the lap out of the pits. */
  readonly isSlow: boolean;
  /** The other of two who ride together, and how far behind the leader the follower is, seconds. */
  readonly company: { readonly rider: FieldRider; readonly gapS: number } | null;
}

/** Stretches of running, seconds after the start: a hold cuts the session in two. */
const stretchesOf = (session: RealSession): readonly (readonly [number, number])[] => {
  const seconds = (t: WallMs): number => (t - session.start) / 1000;
  const end = seconds(session.end);
  return session.hold
    ? [
        [0, seconds(session.hold.from)],
        [seconds(session.hold.to), end],
      ]
    : [[0, end]];
};

const SIGHTING_LAPS = 2;
const SIGHTING_PACE_S = 172;
const OUT_LAP = 1.12;
/** Everybody is back in the pits by the end: the last lap begun must fit. */
const ROLL_OFF_S = 25;

interface LapBegun {
  readonly at: number;
  readonly takes: number;
  readonly isSlow: boolean;
}

function lapsOf(rider: FieldRider, order: number, session: RealSession, random: Random): LapBegun[] {
  const laps: LapBegun[] = [];
  stretchesOf(session).forEach(([from, to], stretch) => {
    const isSighting = session.isSighting && stretch === 0;
    let at = from + 35 + order * (isSighting ? 2.3 : random.between(5.5, 8.5));
    for (let lap = 0; ; lap++) {
      const isTrain = isSighting && lap < SIGHTING_LAPS;
      const own = rider.lapS * (lap === 0 ? OUT_LAP : 1) * (1 + 0.011 * random.normal());
      const takes = isTrain ? SIGHTING_PACE_S + random.between(-0.3, 0.3) : Math.max(own, FASTEST_LAP_S + 0.5);
      if (at + takes > to - ROLL_OFF_S) break;
      laps.push({ at, takes, isSlow: isTrain || lap === 0 });
      at += takes;
    }
  });
  return laps;
}

export interface Running {
  readonly rider: FieldRider;
  readonly laps: readonly LapBegun[];
  readonly company: { readonly rider: FieldRider; readonly gapS: number } | null;
}

/** Riders in the order they left the pits; each of `pairs` rides together all session. */
export function runSession(
  session: RealSession,
  riders: readonly FieldRider[],
  pairs: readonly (readonly [string, string])[],
  random: Random,
): Running[] {
  const followers = new Map(pairs.map(([leader, follower]) => [follower, leader]));
  const alone = riders.filter((r) => !followers.has(r.truth.key));
  const running: Running[] = alone.map((rider, order) => ({
    rider,
    laps: lapsOf(rider, order, session, random),
    company: null,
  }));
  for (const [followerKey, leaderKey] of followers) {
    const rider = riders.find((r) => r.truth.key === followerKey);
    const at = running.findIndex((r) => r.rider.truth.key === leaderKey);
    if (!rider || at < 0) continue;
    const leader = running[at]!;
    const gapS = random.between(0.15, 0.24);
    running[at] = { ...leader, company: { rider, gapS } };
    running.push({
      rider,
      laps: leader.laps.map((l) => ({ ...l, at: l.at + gapS })),
      company: { rider: leader.rider, gapS: -gapS },
    });
  }
  return running;
}

export const passesAt = (spot: SpotName, running: readonly Running[]): PassBy[] =>
  running
    .flatMap(({ rider, laps, company }) =>
      laps.map((lap) => ({ rider, at: lap.at + lap.takes * LAP_SHARE[spot], isSlow: lap.isSlow, company })),
    )
    .sort((a, b) => a.at - b.at);

/** How often the range of riders still unseen holds the truth: on simulated days, with true identities and with found ones. */
import type { SyntheticDay } from '../../demo/simulated-day/index.js';
import type { Arrangement, Pass, Rider, Session } from '../../src/core/arrange/types.js';
import { type Unseen, unseenRiders } from '../../src/core/cover/index.js';
import type { BodyKey, RiderKey } from '../../src/core/ids.js';
import { wallMsOf } from '../../src/core/units.js';

/** One group's session. */
export interface UnseenCase {
  readonly truth: number;
  readonly from: number;
  readonly to: number;
}

export interface UnseenScore {
  readonly sessions: number;
  readonly coveredShare: number;
  readonly medianWidth: number;
  readonly meanTruth: number;
}

export const withTrueIdentities = (day: SyntheticDay): readonly UnseenCase[] =>
  casesOf(day, unseenRiders(trueArrangement(day), []), (index) => day.sessions[index]!.name);

export const withFoundIdentities = (day: SyntheticDay, arrangement: Arrangement): readonly UnseenCase[] => {
  const names = trueNames(day, arrangement);
  return casesOf(day, unseenRiders(arrangement, []), (index) => names.get(index));
};

/** Null for no sessions. */
export function scoreUnseen(cases: readonly UnseenCase[]): UnseenScore | null {
  if (cases.length === 0) return null;
  const widths = cases.map(({ from, to }) => to - from).sort((a, b) => a - b);
  return {
    sessions: cases.length,
    coveredShare: cases.filter(({ truth, from, to }) => from <= truth && truth <= to).length / cases.length,
    medianWidth: widths[Math.floor(widths.length / 2)]!,
    meanTruth: cases.reduce((sum, { truth }) => sum + truth, 0) / cases.length,
  };
}

function casesOf(
  day: SyntheticDay,
  unseen: readonly Unseen[],
  nameOf: (session: number) => string | undefined,
): readonly UnseenCase[] {
  const seen = new Map<string, Set<string>>();
  for (const { session, bikes } of day.truth.exposures)
    for (const { rider } of session === null ? [] : bikes)
      seen.set(session!, (seen.get(session!) ?? new Set()).add(rider));
  return unseen.flatMap(({ session, fromRiders, toRiders }) => {
    const name = nameOf(session);
    if (name === undefined) return [];
    const missed = [...day.onTrack.get(name)!].filter((rider) => seen.get(name)?.has(rider) !== true);
    return [{ truth: missed.length, from: fromRiders, to: toRiders }];
  });
}

/** Which true session most frames of a found one are of. */
function trueNames(day: SyntheticDay, { sessions }: Arrangement): ReadonlyMap<number, string> {
  const sessionOf = new Map(day.truth.exposures.map(({ frameId, session }) => [frameId, session]));
  return new Map(
    sessions.flatMap(({ index, frames }) => {
      const names = frames.map((frame) => sessionOf.get(frame)).filter((name) => typeof name === 'string');
      const counts = new Map<string, number>();
      for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
      const best = [...counts].sort((a, b) => b[1] - a[1])[0];
      return best === undefined ? [] : [[index, best[0]] as const];
    }),
  );
}

/** The day as a perfect program would arrange it; only what counting riders needs. */
function trueArrangement(day: SyntheticDay): Arrangement {
  const sessions = day.sessions.map(({ name, group, start, end }, index): Session => {
    const isKnown = { kind: 'measured' } as const;
    const times = { start: wallMsOf(start), end: wallMsOf(end) };
    return { index, name, group, slot: name, ...times, startSource: isKnown, groupSource: isKnown, frames: [] };
  });
  const passes = truePasses(day);
  const riders = day.riders.map(({ key, isInstructor }) => trueRider(key, isInstructor, passes));
  return { clocks: [], exposures: [], sessions, passes, riders, questions: [], saidBikes: [] };
}

function truePasses(day: SyntheticDay): readonly Pass[] {
  const indexOf = new Map(day.sessions.map(({ name }, index) => [name, index]));
  const found = new Map<string, { session: number; rider: string; wall: number }>();
  for (const { session, wall, bikes } of day.truth.exposures)
    for (const { rider, pass } of bikes) {
      const index = session === null ? undefined : indexOf.get(session);
      const bare = pass.split('/').slice(0, -1).join('/');
      if (index !== undefined && !found.has(bare)) found.set(bare, { session: index, rider, wall });
    }
  return [...found.values()].map(({ session, rider, wall }, index) => {
    const [start, end] = [wallMsOf(wall), wallMsOf(wall)];
    return {
      index,
      session,
      spot: null,
      body: 'Invented|One|1' as BodyKey,
      start,
      end,
      bikes: [],
      rider: rider as RiderKey,
    };
  });
}

function trueRider(key: string, isInstructor: boolean, passes: readonly Pass[]): Rider {
  return {
    key: key as RiderKey,
    id: null,
    aliases: [],
    code: key,
    number: null,
    numberSource: null,
    group: null,
    groups: [],
    passes: passes.filter(({ rider }) => rider === key).map(({ index }) => index),
    bikeColours: [],
    riderColours: [],
    livery: '',
    mainColours: [],
    source: { kind: 'said' },
    face: { frameId: '' as Rider['face']['frameId'], subject: 0 },
    isInstructor,
  };
}

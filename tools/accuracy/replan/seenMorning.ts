/** A morning as the program sees it, errors of arranging among it, and what the solver is asked of the invented circuit. */
import { EBBSTONE } from '../../../demo/circuit/ebbstone.js';
import { ORDINARY_DAY } from '../../../demo/simulated-day/options.js';
import { DAY_START } from '../../../demo/simulated-day/trackDay.js';
import { cover } from '../../../src/core/cover/index.js';
import { type Morning, morningOf } from '../../../src/core/cover/lunch/index.js';
import type { AfternoonAsked } from '../../../src/core/plan/lunch/index.js';
import type { Timetable } from '../../../src/core/plan/types.js';
import { millisecondsOf, type WallMs, wallMsOf } from '../../../src/core/units.js';
import { type CircuitAnswers, circuitAnswers } from '../../../src/host/plan/sheet/circuitAnswers.js';
import { buildDay, wallAt } from '../../../test/builders/arrangement.js';
import { type ShotPass, seenOf } from './photographs.js';
import type { TrueDay } from './trueDay.js';

const GROUPS = ORDINARY_DAY.groups.map(({ key, name }) => ({ key, name }));
const LAP_RECORD_MS = 1000 * ORDINARY_DAY.fastestLapS;

/** An accredited photographer with a van, on the invented circuit. */
export const answersOf = (skies: Parameters<typeof circuitAnswers>[1]['skies']): CircuitAnswers =>
  circuitAnswers(EBBSTONE, {
    zone: 'Europe/London',
    skies,
    groups: GROUPS,
    slots: [],
    day: wallMsOf(DAY_START - 9 * 3_600_000),
    hasVehicle: true,
    hasPermit: true,
    lapRecordMs: LAP_RECORD_MS,
  });

export const inputsOf = (
  timetable: Timetable,
  answers: CircuitAnswers,
  { morning, wishes = [] }: { readonly morning?: Morning; readonly wishes?: AfternoonAsked['inputs']['wishes'] } = {},
): AfternoonAsked['inputs'] => ({
  timetable,
  isHalved: true,
  spots: [...answers.views.values()].map(({ spot: { id, name, hasShade = false }, sideSeen }) => ({
    id,
    name,
    side: sideSeen,
    hasShade,
  })),
  wayBetween(a, b) {
    const answer = answers.wayBetween(a === 'paddock' ? null : a, b === 'paddock' ? null : b);
    return answer.kind === 'way' ? { minutes: answer.way.minutes, isOnFoot: answer.way.by === 'foot' } : null;
  },
  lightAt: answers.light.shareAt,
  lapOf(group) {
    const lap = morning?.groups.find((one) => one.group === group)?.lap;
    return lap ? { ms: lap.ms, guessedFrom: null } : null;
  },
  clients: [],
  carriedKg: 8,
  restAfterMinutes: 120,
  photographers: 1,
  wishes,
});

export function seenMorning(day: TrueDay, shots: readonly ShotPass[], timetable: Timetable, now: WallMs): Morning {
  const ridden = day.sessions.filter(({ isAfternoon, start, end }) => !isAfternoon && end > start);
  const placeOf = new Map(ridden.map(({ name }, i) => [name, i]));
  const built = buildDay({
    sessions: ridden.map(({ name, group, start, end }) => ({ name, group, start: clockOf(start), end: clockOf(end) })),
    passes: seenOf(day, shots).map(({ as, session, spot, wall, frames }) => ({
      rider: as,
      session: placeOf.get(session)!,
      spot,
      at: clockOf(wall),
      frames: frames.map((isGood) => ({ sharp: isGood ? 1 : SOFT })),
    })),
  });
  const spots = day.spots.map((id) => ({ id }));
  const morning = morningOf({
    arrangement: built.arrangement,
    coverage: cover({ ...built, stands: [], spots, timetable, entries: null, now: null }),
    spots,
    groups: GROUPS,
    stands: [],
    fastestLapMs: millisecondsOf(LAP_RECORD_MS),
    booked: [],
    now,
  });
  return { ...morning, yields: morning.yields.map((one) => ({ ...one, seenAt: onThisDay(one.seenAt) })) };
}

/** The builder has a day of its own. */
const onThisDay = (at: WallMs | null): WallMs | null =>
  at === null ? null : wallMsOf(at - wallAt('09:00:00') + DAY_START);

/** Of what a good frame reaches: surely soft. */
const SOFT = 0.1;

const clockOf = (wall: number): string => new Date(wall).toISOString().slice(11, 19);

/**
 * A day as it was, for planning in: who rides when past which spot, what spoils the morning, and what a photographer who stands
 * there brings home. Both plans of an afternoon meet the same riders on the same laps with the same skill. Figures of the trade
 * where it has them, else common practice without source; none is fitted to the outcome.
 */
import { EBBSTONE } from '../../../demo/circuit/ebbstone.js';
import { type DayOptions, ORDINARY_DAY } from '../../../demo/simulated-day/options.js';
import {
  makeRiders,
  planDay,
  runDay,
  runSession,
  type SimulatedRider,
  type SimulatedSession,
} from '../../../demo/simulated-day/trackDay.js';
import type { SpotId } from '../../../src/core/ids.js';
import { type Random, seededRandom } from '../../../src/core/numeric/random.js';
import { layTrack } from '../../../src/core/plan/circuit/track.js';
import type { SpotView } from '../../../src/core/plan/circuit/types.js';
import type { Timetable } from '../../../src/core/plan/types.js';
import { wallMsOf } from '../../../src/core/units.js';

/** One bike going by where somebody may stand. */
export interface GoesBy {
  readonly rider: number;
  readonly wall: number;
}

export interface TrueDay {
  readonly seed: number;
  readonly riders: readonly SimulatedRider[];
  /** As the organiser gave it out. */
  readonly planned: Timetable;
  /** As it ran. */
  readonly sessions: readonly SimulatedSession[];
  /** `[session][spot]`, in order of time. */
  readonly goesBy: readonly (readonly (readonly GoesBy[])[])[];
  readonly spots: readonly SpotId[];
  /** Chance that a frame is good there, in the best light: the same in both plans, known to none. */
  readonly goodChance: readonly number[];
  readonly troubles: Troubles;
}

/** What spoils a morning; each by chance, several may. */
export interface Troubles {
  readonly words: readonly string[];
  /** A spot that marshals close for the morning: whoever is planned there stands nowhere. */
  readonly closed: SpotId | null;
  /** Until lunch the lens for this spot is out of focus. */
  readonly softAt: SpotId | null;
  readonly isOvercast: boolean;
}

/** Riders who come late, go home at lunch or mend a bike: out of all sessions of a span of rounds. */
interface Absence {
  readonly from: number;
  readonly to: number;
}

/** Twenty-five riders a group were seen, 30 to 40 are usual. */
const RIDERS = 30;
const ROUNDS = 7;
const MORNING_ROUNDS = 4;

export function trueDay(seed: number, views: ReadonlyMap<SpotId, SpotView>): TrueDay {
  const random = seededRandom(seed * 48_271 + 11);
  const spots = [...views.keys()];
  const drawn = drawTroubles(random, spots);
  const options: DayOptions = {
    ...ORDINARY_DAY,
    seed: 5000 + seed,
    slipRule: drawn.slipRule,
    groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: RIDERS })),
    rounds: ROUNDS,
    lunchAfterRound: MORNING_ROUNDS,
    groupChangeShare: 0.03,
    redFlags: drawn.redFlags,
    holds: drawn.holds,
  };
  const riders = makeRiders(options);
  const planned = planDay(options);
  const lengthM = layTrack(EBBSTONE).lengthM;
  const shares = spots.map((id) => views.get(id)!.alongM / lengthM);
  const absences = riders.map(() => absenceOf(random));
  const sessions = runDay(options, planned).map((session) =>
    isRidden(session, drawn, planned) ? session : { ...session, end: session.start },
  );
  const goesBy = sessions.map((session, index) =>
    session.end <= session.start
      ? spots.map(() => [])
      : runSession(options, session, index, riders, shares).map((list) =>
          list.filter(
            ({ rider }) => !absences[rider]!.some(({ from, to }) => session.round >= from && session.round <= to),
          ),
        ),
  );
  return {
    seed,
    riders,
    planned,
    sessions,
    goesBy,
    spots,
    // Practice keeps 30 to 60 of 100.
    goodChance: spots.map(() => random.between(0.3, 0.6)),
    troubles: drawn,
  };
}

/** By the clock a lost round is lost; on a sliding day all moves, and what would end late is dropped. */
const isRidden = (session: SimulatedSession, { lost }: DrawnTroubles, planned: Timetable): boolean =>
  !lost.includes(session.round) && session.end <= planned.slots.at(-1)!.end;

function absenceOf(random: Random): readonly Absence[] {
  return [
    // Comes late.
    ...(random.chance(0.06) ? [{ from: 1, to: random.integer(1, 2) }] : []),
    // Mends a bike, or rests.
    ...(random.chance(0.1) ? [{ from: random.integer(1, 5), to: 0 }] : []).map(({ from }) => ({
      from,
      to: from + random.integer(0, 2),
    })),
    // Goes home at lunch, or after.
    ...(random.chance(0.06) ? [{ from: random.integer(MORNING_ROUNDS + 1, ROUNDS), to: ROUNDS }] : []),
  ];
}

const FIRST_GROUP = ORDINARY_DAY.groups[0]!.key;

interface DrawnTroubles extends Troubles {
  readonly redFlags: DayOptions['redFlags'];
  readonly holds: DayOptions['holds'];
  readonly slipRule: DayOptions['slipRule'];
  /** Rounds that nobody rode: an oil spill on a day by the clock. */
  readonly lost: readonly number[];
}

function drawTroubles(random: Random, spots: readonly SpotId[]): DrawnTroubles {
  const words: string[] = [];
  const met = (chance: number, what: string): boolean => {
    if (!random.chance(chance)) return false;
    words.push(what);
    return true;
  };
  const slots = ORDINARY_DAY.groups.flatMap(({ key }) =>
    Array.from({ length: MORNING_ROUNDS }, (_, i) => `${key}${i + 1}`),
  );
  const slipRule = random.chance(0.5) ? 'sliding' : 'clock-fixed';
  words.push(slipRule === 'sliding' ? 'sliding' : 'by the clock');
  const flags = random.shuffled(slots).slice(0, random.integer(1, 3));
  words.push(`red flag ${flags.join(', ')}`);
  const holds = [
    // Both were seen: an unexplained hold, and oil.
    ...(met(0.5, 'held 7 min') ? [{ slot: random.oneOf(slots), minutes: 7 }] : []),
    ...(met(0.3, 'an hour lost')
      ? [{ slot: random.oneOf(slots.filter((slot) => slot.startsWith(FIRST_GROUP))), minutes: 60 }]
      : []),
  ];
  const spilt = holds.find(({ minutes }) => minutes === 60);
  const isByClock = slipRule === 'clock-fixed';
  return {
    slipRule,
    redFlags: flags.map((slot) => ({ slot, afterMinutes: random.integer(2, 12), minutes: 8, resumes: false })),
    holds: isByClock ? holds.filter((hold) => hold !== spilt) : holds,
    lost: isByClock && spilt !== undefined ? [Number(spilt.slot.slice(FIRST_GROUP.length))] : [],
    closed: met(0.3, 'a spot closed until lunch') ? random.oneOf(spots) : null,
    softAt: met(0.3, 'a lens out of focus at a spot') ? random.oneOf(spots) : null,
    isOvercast: met(0.4, 'overcast until lunch'),
    words,
  };
}

/** In force at lunch: sessions as they ran, and will run. */
export const asRan = ({ planned, sessions }: TrueDay): Timetable => ({
  ...planned,
  slots: planned.slots.flatMap((slot, i) => {
    const { start, end } = sessions[i]!;
    return end <= start ? [] : [{ ...slot, start: wallMsOf(start), end: wallMsOf(end) }];
  }),
});

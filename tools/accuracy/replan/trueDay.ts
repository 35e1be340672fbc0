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
  runSession,
  type SimulatedRider,
  type SimulatedSession,
} from '../../../demo/simulated-day/trackDay.js';
import type { SpotId } from '../../../src/core/ids.js';
import { type Random, seededRandom } from '../../../src/core/numeric/random.js';
import { layTrack } from '../../../src/core/plan/circuit/track.js';
import type { SpotView } from '../../../src/core/plan/circuit/types.js';
import { applySlips } from '../../../src/core/plan/timetable/index.js';
import type { Slip } from '../../../src/core/plan/timetable/types.js';
import type { Timetable, TimetableSlot } from '../../../src/core/plan/types.js';
import { millisecondsOf, wallMsOf } from '../../../src/core/units.js';

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
  /** In force at lunch, with all that had slipped. */
  readonly timetable: Timetable;
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

/** Riders come late, go home at lunch or mend a bike: out of all sessions of a span of rounds. */
interface Absence {
  readonly from: number;
  readonly to: number;
}

/** Twenty-five riders a group were seen, 30 to 40 are usual. */
const RIDERS = 30;
const ROUNDS = 7;
const MORNING_ROUNDS = 4;
const MINUTE = 60_000;

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
  };
  const riders = makeRiders(options);
  const planned = planDay(options);
  const lengthM = layTrack(EBBSTONE).lengthM;
  const shares = spots.map((id) => views.get(id)!.alongM / lengthM);
  const absences = riders.map(() => absenceOf(random));
  const timetable = applySlips(planned, slipsOf(planned, drawn)).timetable;
  const sessions = planned.slots.map((slot, i) => sessionOf(slot, i, timetable, drawn));
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
    timetable,
    sessions,
    goesBy,
    spots,
    // Practice keeps 30 to 60 of 100.
    goodChance: spots.map(() => random.between(0.3, 0.6)),
    troubles: drawn,
  };
}

/** As they were said: an hour lost by the clock is a round, on a sliding day all that follows is later. */
function slipsOf(planned: Timetable, { holds, lostWith, flags }: DrawnTroubles): readonly Slip[] {
  const isSliding = planned.slipRule === 'sliding';
  const late = holds.map(({ slot, minutes }): Slip => ({ kind: 'late', slot, byMs: millisecondsOf(minutes * MINUTE) }));
  const lost = (lostWith ?? []).map((slot): Slip => ({ kind: 'dropped', slot }));
  const hour =
    lostWith === null ? [] : [{ kind: 'late', slot: lostWith[0]!, byMs: millisecondsOf(60 * MINUTE) } as const];
  const slips = [...late, ...(isSliding ? hour : lost)];
  const { slots } = applySlips(planned, slips).timetable;
  const red = slots.flatMap(({ name, start }): Slip[] => {
    const flag = flags.find(({ slot }) => slot === name);
    return flag === undefined ? [] : [{ kind: 'red-flag', at: wallMsOf(start + flag.afterMinutes * MINUTE) }];
  });
  return [...slips, ...red];
}

/** Nobody rides in the last minutes of a slot: the next group comes out. A session that was dropped ends as it begins. */
function sessionOf(slot: TimetableSlot, i: number, { slots }: Timetable, { flags }: DrawnTroubles): SimulatedSession {
  const ran = slots.find(({ name }) => name === slot.name);
  const round = Math.floor(i / ORDINARY_DAY.groups.length) + 1;
  const isStopped = flags.some((flag) => flag.slot === slot.name);
  const start = ran?.start ?? slot.start;
  const end = ran === undefined ? start : ran.end - (isStopped ? 0 : ORDINARY_DAY.changeMinutes * MINUTE);
  return { name: slot.name, group: slot.group, isAfternoon: round > MORNING_ROUNDS, round, start, end, stopped: null };
}

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

interface DrawnTroubles extends Troubles {
  readonly flags: readonly { readonly slot: string; readonly afterMinutes: number }[];
  readonly holds: readonly { readonly slot: string; readonly minutes: number }[];
  readonly slipRule: DayOptions['slipRule'];
  /** Sessions of the round that an oil spill fell into; null: none did. */
  readonly lostWith: readonly string[] | null;
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
  // Both were seen: an unexplained hold, and oil.
  const holds = met(0.5, 'held 7 min') ? [{ slot: random.oneOf(slots), minutes: 7 }] : [];
  const round = met(0.3, 'an hour lost') ? random.integer(1, MORNING_ROUNDS) : null;
  return {
    slipRule,
    flags: flags.map((slot) => ({ slot, afterMinutes: random.integer(2, 12) })),
    holds,
    lostWith: round === null ? null : ORDINARY_DAY.groups.map(({ key }) => `${key}${round}`),
    closed: met(0.3, 'a spot closed until lunch') ? random.oneOf(spots) : null,
    softAt: met(0.3, 'a lens out of focus at a spot') ? random.oneOf(spots) : null,
    isOvercast: met(0.4, 'overcast until lunch'),
    words,
  };
}

/**
 * A day as it was, for planning in: who rides when past which spot, and what a photographer who stands there brings home. Both
 * plans of an afternoon meet the same riders on the same laps with the same skill. Figures of the trade where it has them, else
 * invented without source; none is fitted to the outcome.
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
import { DAY_WORTH } from '../../../src/core/plan/day/worthOfStretch.js';
import { applySlips } from '../../../src/core/plan/timetable/index.js';
import type { Slip } from '../../../src/core/plan/timetable/types.js';
import type { Timetable, TimetableSlot } from '../../../src/core/plan/types.js';
import { millisecondsOf, wallMsOf } from '../../../src/core/units.js';
import { drawTroubles, MORNING_ROUNDS, ROUNDS, type Troubles } from './troubles.js';

/** One bike going by where somebody may stand. */
export interface GoesBy {
  readonly rider: number;
  readonly wall: number;
}

/** What a spot gives of a group, in the best light; the same for both plans, and known to neither the evening before. */
export interface SpotSkill {
  /** Of those who go by, the share that can be photographed: others ride across, a post stands in the way. */
  readonly attention: number;
  /** Chance that a frame is good. */
  readonly good: number;
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
  readonly skillAt: (spot: SpotId, group: string) => SpotSkill;
  readonly troubles: Troubles;
}

/** Riders come late, go home at lunch or mend a bike: out of all sessions of a span of rounds. */
interface Absence {
  readonly from: number;
  readonly to: number;
}

/** Twenty-five riders a group were seen, 30 to 40 are usual. */
const RIDERS = [25, 40] as const;
const MINUTE = 60_000;

export function trueDay(seed: number, views: ReadonlyMap<SpotId, SpotView>): TrueDay {
  const random = seededRandom(seed * 48_271 + 11);
  const spots = [...views.keys()];
  const troubles = drawTroubles(random, seededRandom(seed * 69_621 + 29), spots);
  const options: DayOptions = {
    ...ORDINARY_DAY,
    seed: 5000 + seed,
    slipRule: troubles.slipRule,
    groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: random.integer(...RIDERS) })),
    rounds: ROUNDS,
    lunchAfterRound: MORNING_ROUNDS,
  };
  const made = makeRiders(options);
  const riders = troubles.isRegrouped ? regrouped(made, options, random) : made;
  const planned = planDay(options);
  const lengthM = layTrack(EBBSTONE).lengthM;
  const shares = spots.map((id) => views.get(id)!.alongM / lengthM);
  const absences = riders.map(() => absenceOf(random));
  const inOrder = reordered(planned, troubles);
  const timetable = applySlips(inOrder, slipsOf(inOrder, troubles)).timetable;
  const sessions = planned.slots.map((slot) => sessionOf(slot, timetable, troubles));
  const staysIn = rainStays(seed, riders.length, troubles);
  const goesBy = sessions.map((session, index) =>
    session.end <= session.start
      ? spots.map(() => [])
      : runSession(options, session, index, riders, shares).map((list) =>
          list.filter(
            ({ rider }) =>
              !absences[rider]!.some(({ from, to }) => session.round >= from && session.round <= to) &&
              !(staysIn[rider]! && session.round >= troubles.rainFrom!),
          ),
        ),
  );
  const skills = drawSkills(random, spots);
  const skillAt = (spot: SpotId, group: string): SpotSkill => skills.get(`${spot}|${group}`)!;
  return { seed, riders, planned, timetable, sessions, goesBy, spots, skillAt, troubles };
}

/**
 * Good ones of 100 frames: slow pans 20 to 40, or 60 to 70 of a skilled hand, and 30 to 60 kept in practice; so from 20 to 70
 * by spot. How much of that hangs on the group, and how many of those who go by can be had, is invented.
 */
function drawSkills(random: Random, spots: readonly SpotId[]): ReadonlyMap<string, SpotSkill> {
  return new Map(
    spots.flatMap((spot) => {
      const [good, attention] = [random.between(0.2, 0.7), random.between(0.35, 0.65)];
      return ORDINARY_DAY.groups.map(
        ({ key }) => [`${spot}|${key}`, { attention, good: good * random.between(0.8, 1.2) }] as const,
      );
    }),
  );
}

/** By lap times as they were taken in the morning, a little beside the truth: the slowest into the first group. */
function regrouped(riders: readonly SimulatedRider[], { groups }: DayOptions, random: Random) {
  const timed = riders.map((rider, i) => ({ i, lapS: rider.lapS * random.between(0.97, 1.03) }));
  const keys = groups.flatMap(({ key, riders: size }) => Array.from({ length: size }, () => key));
  const groupOf = new Map(timed.toSorted((a, b) => b.lapS - a.lapS).map(({ i }, place) => [i, keys[place]!]));
  return riders.map(
    (rider, i): SimulatedRider => ({ ...rider, groups: [rider.groups[0], groupOf.get(i) ?? rider.groups[1]] }),
  );
}

/** After lunch each round's hours go to the groups in their new order. */
function reordered(planned: Timetable, { orderAfter }: Troubles): Timetable {
  const hoursOf = ({ group, name }: TimetableSlot) => {
    const round = planned.slots.filter((slot) => roundOf(slot.name) === roundOf(name));
    return roundOf(name) <= MORNING_ROUNDS ? null : round[orderAfter.indexOf(group)]!;
  };
  const slots = planned.slots.map((slot) => {
    const { start, end } = hoursOf(slot) ?? slot;
    return { ...slot, start, end };
  });
  return { ...planned, slots: slots.toSorted((a, b) => a.start - b.start) };
}

/** Who has no tyres or no heart for it rides no more: as many as the plan takes for it (`DAY_WORTH.rain`), invented too. */
function rainStays(seed: number, riders: number, { rainFrom }: Troubles): readonly boolean[] {
  const random = seededRandom(seed * 40_692 + 7);
  return Array.from({ length: riders }, () => random.chance(1 - DAY_WORTH.rain) && rainFrom !== null);
}

/** As they were said by lunch: an hour lost by the clock is a round, on a sliding day all that follows is later. */
function slipsOf(planned: Timetable, { holds, lostRound, flags }: Troubles): readonly Slip[] {
  const lostWith = lostRound === null ? [] : ORDINARY_DAY.groups.map(({ key }) => `${key}${lostRound}`);
  const late = holds.map(({ slot, minutes }): Slip => ({ kind: 'late', slot, byMs: millisecondsOf(minutes * MINUTE) }));
  const lost = lostWith.map((slot): Slip => ({ kind: 'dropped', slot }));
  const hour = lostWith.slice(0, 1).map((slot): Slip => ({ kind: 'late', slot, byMs: millisecondsOf(60 * MINUTE) }));
  const slips = [...late, ...(planned.slipRule === 'sliding' ? hour : lost)];
  const { slots } = applySlips(planned, slips).timetable;
  const red = slots.flatMap(({ name, start }): Slip[] => {
    const flag = flags.find(({ slot }) => slot === name && roundOf(slot) <= MORNING_ROUNDS);
    return flag === undefined ? [] : [{ kind: 'red-flag', at: wallMsOf(start + flag.afterMinutes * MINUTE) }];
  });
  return [...slips, ...red];
}

const roundOf = (slot: string): number => Number(slot.slice(1));

/** Nobody rides in the last minutes of a slot: the next group comes out. A session that was dropped ends as it begins. */
function sessionOf(slot: TimetableSlot, { slots }: Timetable, { flags }: Troubles): SimulatedSession {
  const ran = slots.find(({ name }) => name === slot.name);
  const round = roundOf(slot.name);
  const flag = flags.find((one) => one.slot === slot.name);
  const start = ran?.start ?? slot.start;
  const whole = ran === undefined ? start : ran.end - ORDINARY_DAY.changeMinutes * MINUTE;
  const end = flag === undefined ? whole : Math.min(ran?.end ?? start, start + flag.afterMinutes * MINUTE);
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

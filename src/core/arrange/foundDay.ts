/** The day as found, before any person's word about riders: what a rider decision can never change. */
import type { SpotId } from '../ids.js';
import type { Timetable } from '../plan/types.js';
import type { WallMs } from '../units.js';
import { type ApartOrNot, apartOfDay } from './apart/index.js';
import { type GuessedClocks, guessClocks } from './clocks/tracks.js';
import { correctTimes } from './correctedTime.js';
import type { DecisionOf, Words } from './decisions.js';
import type { RawExposure } from './exposures.js';
import { handsOf } from './hands.js';
import { orderOfDay } from './order.js';
import type { RawPass } from './passes.js';
import { type SeenDay, seeDay } from './passesOfDay.js';
import { type Calibration, readCalibration } from './riders/calibration.js';
import type { Clustering } from './riders/clusterPasses.js';
import type { Field } from './riders/field.js';
import { type FoundRiders, findRiders } from './riders/findRiders.js';
import { placeSessions } from './sessions/placeSessions.js';
import type { ArrangeInput, BodyClock, Session } from './types.js';

export interface FoundDay {
  readonly seen: SeenDay;
  readonly clocks: readonly BodyClock[];
  readonly clockSteps: GuessedClocks['steps'];
  /** Per exposure of `seen`. */
  readonly walls: readonly (WallMs | null)[];
  readonly spots: readonly (SpotId | null)[];
  readonly apart: readonly ApartOrNot[];
  readonly perhapsApart: readonly ApartOrNot[];
  readonly sessionOf: Int32Array;
  readonly sessions: readonly Session[];
  /** Order of the day: indices into `seen.exposures`. */
  readonly order: readonly number[];
  /** In order of time. */
  readonly passes: readonly RawPass[];
  readonly field: Field;
  readonly riders: FoundRiders;
  readonly clustering: Clustering;
  readonly timetable: Timetable | null;
}

/** @param before the day as found last; what still holds of it is not worked out again. */
export function findDay(input: ArrangeInput, words: Words, before: FoundBefore | null = null): FoundDay {
  const logged = readCalibration(input.calibration);
  const seen = seenBefore(input, words, logged, before) ?? seeDay(input, words.fillBodies, logged);
  const { guesses, steps: clockSteps } = guessClocks(seen, words.clocks, input.timetable);
  const { walls, clocks } = correctTimes(seen.exposures, words.clocks, guesses);
  const order = orderOfDay(seen.exposures, walls);
  const { apart, perhaps: perhapsApart } = apartOfDay(seen, walls, order, words.apart);
  const placed = placeSessions({
    frameIds: order.map((i) => seen.exposures[i]!.frameId),
    walls: order.map((i) => walls[i] ?? null),
    roles: order.map((i) => seen.roles[i]!),
    isApart: order.map((i) => apart[i] !== null),
    timetable: input.timetable,
    words,
  });
  const sessionOf = new Int32Array(order.length);
  order.forEach((i, at) => {
    sessionOf[i] = placed.sessionOf[at]!;
  });
  const spots = seen.exposures.map((exposure, i) =>
    apart[i] === null ? spotOf(words.stands, exposure, walls[i] ?? null) : null,
  );
  const passes = placePasses(seen, walls, sessionOf, spots, apart);
  const { sessions } = placed;
  const riders = findRiders(
    {
      bikes: seen.bikes,
      passes,
      sessions,
      saidLapMs: input.timetable?.fastestLapMs ?? null,
      entryNumbers: input.entryNumbers,
      passLikeness: seen.passLikeness,
      logged,
    },
    before?.found.riders ?? null,
  );
  const { timetable } = input;
  const { clustering } = riders;
  const { field } = clustering;
  return {
    seen,
    clocks,
    clockSteps,
    walls,
    spots,
    apart,
    perhapsApart,
    sessionOf,
    sessions,
    order,
    passes,
    field,
    riders,
    clustering,
    timetable,
  };
}

export interface FoundBefore {
  readonly input: ArrangeInput;
  readonly fillBodies: string;
  readonly found: FoundDay;
}

export const keyOfBodies = ({ fillBodies }: Words): string => JSON.stringify([...fillBodies]);

/** Bikes and passes do not depend on clocks, timetable or decisions, but for whose card a fill is. */
function seenBefore(
  input: ArrangeInput,
  words: Words,
  logged: Calibration | null,
  before: FoundBefore | null,
): SeenDay | null {
  if (before === null || before.input.files !== input.files || before.input.pixels !== input.pixels) return null;
  const { seen } = before.found;
  const isLearntSo =
    logged === null ? readCalibration(before.input.calibration) === null : logged.passLikeness === seen.passLikeness;
  return isLearntSo && before.fillBodies === keyOfBodies(words) ? seen : null;
}

/** A pass belongs to the session of its first frame; a frame that is apart is in none. */
function placePasses(
  seen: SeenDay,
  walls: readonly (WallMs | null)[],
  sessionOf: Int32Array,
  spots: readonly (SpotId | null)[],
  apart: readonly ApartOrNot[],
): readonly RawPass[] {
  const onTrack = seen.passes
    .map((bikes) => bikes.filter((bike) => apart[seen.bikes.exposure[bike]!] === null))
    .filter(({ length }) => length > 0);
  const passes = onTrack.map((bikes) => {
    const first = seen.bikes.exposure[bikes[0]!]!;
    return {
      bikes,
      session: sessionOf[first]!,
      body: seen.exposures[first]!.body,
      spot: spots[first]!,
      start: walls[first]!,
      end: walls[seen.bikes.exposure[bikes.at(-1)!]!]!,
    };
  });
  const handOf = handsOf(passes);
  return passes
    .map((pass): RawPass => ({ ...pass, stand: pass.spot ?? handOf(pass.body, pass.session) }))
    .sort((a, b) => a.start - b.start || a.bikes[0]! - b.bikes[0]!);
}

/** The last word about where this body, or both, stood at that moment. */
function spotOf(stands: readonly DecisionOf<'stood-at'>[], exposure: RawExposure, wall: WallMs | null): SpotId | null {
  if (wall === null) return null;
  const stand = stands.findLast(
    ({ body, from, to }) => (body === undefined || body === exposure.body) && wall >= from && wall <= to,
  );
  return stand?.spot ?? null;
}

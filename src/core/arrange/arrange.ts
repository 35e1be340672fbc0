import type { SpotId } from '../ids.js';
import { onceEach } from '../numeric/once.js';
import type { WallMs } from '../units.js';
import { cluesOfRider, cluesWithin } from './clues.js';
import { type Words, wordsOf } from './decisions.js';
import { type FoundBefore, type FoundDay, findDay, keyOfBodies } from './foundDay.js';
import { markRiders } from './markRiders.js';
import { isUnsure, type Placing, placingsOf, tieOfPass, whyOf } from './placing.js';
import { questionsOf } from './questions.js';
import { writeCalibration } from './riders/calibration.js';
import { describeRiders, type FoundSets, membersOf } from './riders/describeRiders.js';
import { shownPasses } from './riders/shownPasses.js';
import { type SaidDay, sayDay } from './saidDay.js';
import type { ArrangeInput, Arrangement, BikeRef, Exposure, Pass, Rider } from './types.js';
import { instantsIn } from './wallTime.js';

/**
 * Everything that follows from measurements, timetable and decisions: clocks → sessions → passes → riders. Pure and
 * deterministic: the order of `files` and of map entries changes nothing.
 *
 * @example
 * const arrangement = arrange({ files, pixels, log, zone: 'Europe/London', timetable, calibration: {} });
 */
export const arrange = (input: ArrangeInput): Arrangement => arrangeAgain(input, null).arrangement;

/** What one arranging leaves for the next; opaque, never stored. */
export interface ArrangeMemory extends FoundBefore {
  readonly words: string;
  readonly ofRiders: string;
  readonly exposures: readonly Exposure[];
  readonly arrangement: Arrangement;
}

/**
 * The same as {@link arrange}, but a decision about riders costs only what follows from it, and after one about neither
 * riders nor the day the arrangement is the very same object. `files`, `pixels` and `timetable` must be the very same
 * objects as before for that, and are never changed in place.
 */
export function arrangeAgain(
  input: ArrangeInput,
  memory: ArrangeMemory | null,
): { readonly arrangement: Arrangement; readonly memory: ArrangeMemory } {
  const words = wordsOf(input.log);
  const key = keyOfWords(words);
  const kept = memory !== null && isStillGood(memory, input, key) ? memory : null;
  const ofRiders = JSON.stringify([words.riders, words.settled]);
  if (kept?.ofRiders === ofRiders) return { arrangement: kept.arrangement, memory: kept };
  const found = kept?.found ?? findDay(input, words, memory);
  const exposures = kept?.exposures ?? exposureRecords(found, input.zone);
  const said = sayDay(found, words.riders, words.settled);
  const arrangement = compose(found, said, exposures, input.entryNumbers);
  return {
    arrangement,
    memory: { input, words: key, ofRiders, fillBodies: keyOfBodies(words), found, exposures, arrangement },
  };
}

const keyOfWords = ({ riders: _, settled: __, fillBodies, ...others }: Words): string =>
  JSON.stringify({ ...others, fillBodies: [...fillBodies] });

function isStillGood(memory: ArrangeMemory, input: ArrangeInput, words: string): boolean {
  return (
    memory.input.files === input.files &&
    memory.input.pixels === input.pixels &&
    memory.input.timetable === input.timetable &&
    memory.input.entryNumbers === input.entryNumbers &&
    isSameRecord(memory.input.calibration, input.calibration) &&
    memory.input.zone === input.zone &&
    memory.words === words
  );
}

const isSameRecord = (a: Readonly<Record<string, number>>, b: Readonly<Record<string, number>>): boolean =>
  Object.keys(a).length === Object.keys(b).length && Object.entries(a).every(([key, value]) => b[key] === value);

function compose(
  found: FoundDay,
  said: SaidDay,
  records: readonly Exposure[],
  entryNumbers: readonly string[] | undefined,
): Arrangement {
  const { exposures } = found.seen;
  const refOf = (bike: number): BikeRef => ({
    frameId: exposures[said.bikes.exposure[bike]!]!.frameId,
    subject: said.bikes.subject[bike]!,
  });
  const placings = placingsOf(found, said);
  const described = describeRiders({
    passes: said.passes,
    bikes: said.bikes,
    sessions: found.sessions,
    labels: said.labels,
    isUnsure: (pass) => isUnsure(placings[pass]!),
    isApart: (pass) => found.apart[said.bikes.exposure[said.passes[pass]!.bikes[0]!]!] !== null,
    refOf,
    sourceOf: sourcesOf(found, said, placings),
    namingOf: said.identityOf,
    found: foundSets(found, said),
    entryNumbers,
  });
  const riders = markRiders(described, found, said);
  const riderOf = (pass: number): Rider => riders[said.labels[pass]!]!;
  const cluesOf = onceEach((rider: number) => cluesWithin(riders[rider]!.passes, found, said));
  return {
    clocks: found.clocks,
    exposures: records,
    sessions: found.sessions,
    passes: said.passes.map(
      (pass, index): Pass => ({
        index,
        session: pass.session,
        spot: pass.spot as SpotId | null,
        body: pass.body as Pass['body'],
        start: pass.start as WallMs,
        end: pass.end as WallMs,
        bikes: pass.bikes.map(refOf),
        rider: riderOf(index).key,
        ...guessOf(placings[index]!, riders, () => cluesOf(said.labels[index]!)(index)),
      }),
    ),
    riders,
    calibration: writeCalibration(found.riders.calibration),
    unsure: placings.flatMap((placing, index) => (isUnsure(placing) ? [index] : [])),
    questions: questionsOf(found, said, riders, refOf),
    saidBikes: said.extras.flatMap(({ exposure, subject, box }, k) => {
      const pass = said.passOf[found.seen.bikes.count + k]!;
      if (subject >= 0 || pass < 0) return [];
      return [{ frameId: exposures[exposure]!.frameId, box, rider: riderOf(pass).key }];
    }),
  };
}

/** A pass that waits is no part of the rider it was guessed to be. */
function foundSets({ passes, clustering }: FoundDay, { foundPass }: SaidDay): FoundSets {
  const sets = clustering.clusters.map((_, rider) => shownPasses(rider, clustering));
  const setOf = new Int32Array(passes.length).fill(-1);
  sets.forEach((set, rider) => {
    for (const p of set) setOf[p] = rider;
  });
  return { passes, sets, setOf: (pass) => setOf[foundPass[pass]!] ?? -1 };
}

function guessOf(
  placing: Placing,
  riders: readonly Rider[],
  cluesOf: () => readonly string[],
): Pick<Pass, 'confidence' | 'why' | 'rival'> {
  const clues = placing.kind === 'guessed' ? cluesOf() : [];
  const why = whyOf(placing, (rider) => riders[rider]!.code, clues);
  if (placing.kind === 'said' || placing.kind === 'settled') return { confidence: 1, why };
  if (placing.kind === 'alone') return { why };
  const { confidence, rival } = placing;
  return rival === null ? { confidence, why } : { confidence, why, rival: riders[rival]!.key };
}

/** How sure a rider is one rider: the weakest tie of any of its sightings to the rest of it. */
function sourcesOf(found: FoundDay, said: SaidDay, placings: readonly Placing[]): (rider: number) => Rider['source'] {
  const members = membersOf(said.labels);
  return (rider) => {
    const passes = members[rider]!.filter((p) => !isUnsure(placings[p]!));
    const sessions = new Set(passes.map((p) => said.passes[p]!.session)).size;
    const reasons = [...cluesOfRider(passes, found, said), ...loosestOf(passes, found, said)];
    return { kind: 'guessed', confidence: sessions < 2 ? 0.5 : weakestTie(passes, found, said), reasons };
  };
}

/** The pass to look at first. */
function loosestOf(passes: readonly number[], found: FoundDay, said: SaidDay): readonly string[] {
  const tied = passes.flatMap((p) => {
    const sighting = tieOfPass(p, found, said)?.sighting ?? null;
    return sighting === null ? [] : [{ p, sighting }];
  });
  const [loosest] = tied.sort((a, b) => a.sighting - b.sighting || a.p - b.p);
  if (loosest === undefined || tied.length < 2) return [];
  return [`the pass of ${new Date(said.passes[loosest.p]!.start).toISOString().slice(11, 19)} holds most loosely`];
}

function weakestTie(passes: readonly number[], found: FoundDay, said: SaidDay): number {
  const ties = passes.map((p) => tieOfPass(p, found, said)?.sighting ?? null).filter((tie) => tie !== null);
  return ties.length === 0 ? 0.5 : 1 / (1 + Math.exp(-Math.max(-8, Math.min(...ties)) / 2));
}

function exposureRecords(
  { seen, order, walls, sessionOf, spots, apart: apartOf, perhapsApart }: FoundDay,
  zone: string,
): readonly Exposure[] {
  const toInstant = instantsIn(zone);
  const numbers = new Map<number, number>();
  return order.map((i): Exposure => {
    const exposure = seen.exposures[i]!;
    const wall = walls[i] ?? null;
    const apart = apartOf[i] ?? null;
    const perhaps = perhapsApart[i] ?? null;
    return {
      frameId: exposure.frameId,
      mainFile: exposure.main.fileId,
      files: exposure.files,
      body: exposure.body,
      fill: exposure.fill,
      path: exposure.path,
      fileNumber: exposure.fileNumber,
      recorded: exposure.recorded,
      wall,
      instant: wall === null ? null : toInstant(wall),
      role: seen.roles[i]!,
      session: sessionOf[i]! < 0 ? null : sessionOf[i]!,
      burst: burstNumber(seen.bursts[i]!, numbers),
      spot: spots[i]!,
      ...(apart === null ? {} : { apart }),
      ...(perhaps === null ? {} : { perhapsApart: perhaps }),
    };
  });
}

/** Bursts are numbered in the order of the day. */
function burstNumber(burst: number, numbers: Map<number, number>): number | null {
  if (burst < 0) return null;
  let number = numbers.get(burst);
  if (number === undefined) {
    number = numbers.size;
    numbers.set(burst, number);
  }
  return number;
}

import type { SpotId } from '../ids.js';
import type { WallMs } from '../units.js';
import { type Words, wordsOf } from './decisions.js';
import { type FoundDay, findDay } from './foundDay.js';
import { questionsOf } from './questions.js';
import { describeRiders, membersOf } from './riders/describeRiders.js';
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
export interface ArrangeMemory {
  readonly input: ArrangeInput;
  readonly words: string;
  readonly found: FoundDay;
  readonly exposures: readonly Exposure[];
}

/**
 * The same as {@link arrange}, but a decision about riders costs only what follows from it. `files`, `pixels` and
 * `timetable` must be the very same objects as before for that, and are never changed in place.
 */
export function arrangeAgain(
  input: ArrangeInput,
  memory: ArrangeMemory | null,
): { readonly arrangement: Arrangement; readonly memory: ArrangeMemory } {
  const words = wordsOf(input.log);
  const key = keyOfWords(words);
  const kept = memory !== null && isStillGood(memory, input, key) ? memory : null;
  const found = kept?.found ?? findDay(input, words);
  const exposures = kept?.exposures ?? exposureRecords(found, input.zone);
  const said = sayDay(found, words.riders);
  return { arrangement: compose(found, said, exposures), memory: { input, words: key, found, exposures } };
}

const keyOfWords = ({ riders: _, fillBodies, ...others }: Words): string =>
  JSON.stringify({ ...others, fillBodies: [...fillBodies] });

function isStillGood(memory: ArrangeMemory, input: ArrangeInput, words: string): boolean {
  return (
    memory.input.files === input.files &&
    memory.input.pixels === input.pixels &&
    memory.input.timetable === input.timetable &&
    memory.input.zone === input.zone &&
    memory.words === words
  );
}

function compose(found: FoundDay, said: SaidDay, records: readonly Exposure[]): Arrangement {
  const { exposures } = found.seen;
  const refOf = (bike: number): BikeRef => ({
    frameId: exposures[said.bikes.exposure[bike]!]!.frameId,
    subject: said.bikes.subject[bike]!,
  });
  const riders = describeRiders({
    passes: said.passes,
    bikes: said.bikes,
    sessions: found.sessions,
    labels: said.labels,
    refOf,
    sourceOf: sourcesOf(found, said),
    namingOf: said.identityOf,
  });
  const riderOf = (pass: number): Rider => riders[said.labels[pass]!]!;
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
      }),
    ),
    riders,
    questions: questionsOf(found, said, riders, refOf),
    saidBikes: said.extras.flatMap(({ exposure, subject, box }, k) => {
      const pass = said.passOf[found.seen.bikes.count + k]!;
      if (subject >= 0 || pass < 0) return [];
      return [{ frameId: exposures[exposure]!.frameId, box, rider: riderOf(pass).key }];
    }),
  };
}

/** How sure a rider is one rider: the weakest tie of any of its sessions to the rest of it. */
function sourcesOf(found: FoundDay, said: SaidDay): (rider: number) => Rider['source'] {
  const members = membersOf(said.labels);
  return (rider) => {
    const passes = members[rider]!;
    const sessions = new Set(passes.map((p) => said.passes[p]!.session)).size;
    const confidence = found.clustering.confidenceOf(passes);
    const reasons = [
      `${passes.length} ${passes.length === 1 ? 'pass' : 'passes'} in ${sessions} ${sessions === 1 ? 'session' : 'sessions'}`,
    ];
    if (said.saidRiders.has(rider)) reasons.push('put together or apart by a person');
    return { kind: 'guessed', confidence, reasons };
  };
}

function exposureRecords({ seen, order, walls, sessionOf, spots }: FoundDay, zone: string): readonly Exposure[] {
  const toInstant = instantsIn(zone);
  const numbers = new Map<number, number>();
  return order.map((i): Exposure => {
    const exposure = seen.exposures[i]!;
    const wall = walls[i] ?? null;
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

import type { SpotId } from '../ids.js';
import type { FrameMeasured } from '../measure/types.js';
import type { WallMs } from '../units.js';
import { type Bikes, bikesOf } from './bikes.js';
import { correctTimes } from './correctedTime.js';
import { type DecisionOf, wordsOf } from './decisions.js';
import { exposuresOf, type RawExposure } from './exposures.js';
import { orderOfDay } from './order.js';
import { burstsOf, passesOf, type RawPass, type TimedFrame } from './passes.js';
import { LAP_SHARE, LEAST_LAP_MS } from './riders/cannotBeOne.js';
import { clusterPasses } from './riders/clusterPasses.js';
import { describeRiders, keyOf } from './riders/describeRiders.js';
import { fieldOf } from './riders/field.js';
import { looksOf } from './riders/looks.js';
import { splitSessions } from './sessions/splitSessions.js';
import type { ArrangeInput, Arrangement, BikeRef, Exposure, Pass, Session } from './types.js';
import { instantsIn } from './wallTime.js';

/** At this score a frame is a divider, if no bike is in it. */
const LEAST_DIVIDER_SCORE = 0.5;

/**
 * Everything that follows from measurements, timetable and decisions: clocks → sessions → passes → riders. Pure and
 * deterministic: the order of `files` and of map entries changes nothing.
 *
 * @example
 * const arrangement = arrange({ files, pixels, log, zone: 'Europe/London', timetable, calibration: {} });
 */
export function arrange(input: ArrangeInput): Arrangement {
  const words = wordsOf(input.log);
  const raw = exposuresOf(input.files, input.pixels, words.fillBodies);
  const { walls, clocks } = correctTimes(raw, words.clocks, new Map());
  const order = orderOfDay(raw, walls);
  const ordered = order.map((i) => raw[i]!);
  const orderedWalls = order.map((i) => walls[i] ?? null);
  const roles = ordered.map((exposure) => roleOf(exposure, input));
  const { sessions, sessionOf } = sessionsOf(ordered, orderedWalls, roles, input);
  const spots = ordered.map((exposure, i) => spotOf(words.stands, exposure, orderedWalls[i]!));
  const frames = ordered.map(
    (exposure, i): TimedFrame => ({
      wall: orderedWalls[i]!,
      session: sessionOf[i]!,
      body: exposure.body,
      spot: spots[i]!,
    }),
  );
  const bursts = burstsOf(frames);
  const measured = ordered.map((exposure) => measuredOf(exposure, input));
  const bikes = bikesOf(measured, new Map());
  const passes = passesOf(bikes, frames, bursts);
  const leastLapMs = Math.max(LEAST_LAP_MS, LAP_SHARE * (input.timetable?.fastestLapMs ?? 0));
  const field = fieldOf(passes, bikes, sessions, input.timetable?.fastestLapMs ?? null, { leastLapMs });
  const { labels } = clusterPasses(field, looksOf(passes, bikes));
  const refOf = (bike: number): BikeRef => ({
    frameId: ordered[bikes.exposure[bike]!]!.frameId,
    subject: bikes.subject[bike]!,
  });
  const riders = describeRiders({
    passes,
    bikes,
    sessions,
    labels,
    refOf,
    sourceOf: () => ({ kind: 'guessed', confidence: 0.5, reasons: [] }),
    namingOf: () => ({ id: null, aliases: [], number: null }),
  });
  const toInstant = instantsIn(input.zone);
  return {
    clocks,
    exposures: ordered.map(
      (exposure, i): Exposure => ({
        frameId: exposure.frameId,
        mainFile: exposure.main.fileId,
        files: exposure.files,
        body: exposure.body,
        fill: exposure.fill,
        path: exposure.path,
        fileNumber: exposure.fileNumber,
        recorded: exposure.recorded,
        wall: orderedWalls[i]!,
        instant: orderedWalls[i] === null ? null : toInstant(orderedWalls[i] as WallMs),
        role: roles[i]!,
        session: sessionOf[i]! < 0 ? null : sessionOf[i]!,
        burst: bursts[i]! < 0 ? null : bursts[i]!,
        spot: spots[i]!,
      }),
    ),
    sessions,
    passes: passes.map((pass, index) => passRecord(pass, index, bikes, refOf, riders[labels[index]!]!.key)),
    riders,
    questions: [],
    saidBikes: [],
  };
}

function passRecord(
  pass: RawPass,
  index: number,
  _bikes: Bikes,
  refOf: (bike: number) => BikeRef,
  rider: Pass['rider'],
): Pass {
  return {
    index,
    session: pass.session,
    spot: pass.spot as SpotId | null,
    body: pass.body as Pass['body'],
    start: pass.start as WallMs,
    end: pass.end as WallMs,
    bikes: pass.bikes.map(refOf),
    rider,
  };
}

const measuredOf = (exposure: RawExposure, input: ArrangeInput): FrameMeasured | null => {
  const pixels = input.pixels.get(exposure.frameId);
  return pixels?.kind === 'measured' ? pixels : null;
};

function roleOf(exposure: RawExposure, input: ArrangeInput): Exposure['role'] {
  const pixels = input.pixels.get(exposure.frameId);
  if (pixels === undefined) return 'unmeasured';
  if (pixels.kind === 'unmeasurable') return 'unmeasurable';
  if (pixels.subjects.some(({ what }) => what === 'motorcycle')) return 'bike';
  return pixels.dividerScore >= LEAST_DIVIDER_SCORE ? 'divider' : 'scenery';
}

const WEIGHTS: Readonly<Record<Exposure['role'], number>> = {
  bike: 1,
  unmeasured: 0.5,
  unmeasurable: 0.5,
  scenery: 0.1,
  divider: 0,
};

function sessionsOf(
  exposures: readonly RawExposure[],
  walls: readonly (WallMs | null)[],
  roles: readonly Exposure['role'][],
  input: ArrangeInput,
): { readonly sessions: readonly Session[]; readonly sessionOf: Int32Array } {
  const words = wordsOf(input.log);
  const timed = exposures.map((_, i) => i).filter((i) => walls[i] !== null);
  const shots = timed.filter((i) => roles[i] !== 'divider');
  const split = splitSessions({
    shots: shots.map((i) => ({ wall: walls[i]!, weight: WEIGHTS[roles[i]!] })),
    dividers: timed.filter((i) => roles[i] === 'divider').map((i) => ({ wall: walls[i]! })),
    timetable: input.timetable,
    boundaryWords: words.boundaries,
    groupWords: words.groups,
  });
  const sessionOf = new Int32Array(exposures.length).fill(-1);
  shots.forEach((i, s) => {
    sessionOf[i] = split.sessionOf[s]!;
  });
  placeUntimed(walls, sessionOf);
  const framesOf: Session['frames'][number][][] = split.sessions.map(() => []);
  exposures.forEach((exposure, i) => {
    framesOf[sessionOf[i]!]?.push(exposure.frameId);
  });
  return {
    sessions: split.sessions.map((session, index) => ({ index, ...session, frames: framesOf[index]! })),
    sessionOf,
  };
}

/** A frame without a time belongs to a session when its neighbours on both sides do. */
function placeUntimed(walls: readonly (WallMs | null)[], sessionOf: Int32Array): void {
  walls.forEach((wall, i) => {
    if (wall !== null || i === 0) return;
    let next = i + 1;
    while (next < walls.length && walls[next] === null) next++;
    const before = sessionOf[i - 1]!;
    if (next < walls.length && before === sessionOf[next]) sessionOf[i] = before;
  });
}

/** The last word about where this body, or both, stood at that moment. */
function spotOf(stands: readonly DecisionOf<'stood-at'>[], exposure: RawExposure, wall: WallMs | null): SpotId | null {
  if (wall === null) return null;
  const stand = stands.findLast(
    ({ body, from, to }) => (body === undefined || body === exposure.body) && wall >= from && wall <= to,
  );
  return stand?.spot ?? null;
}

export { keyOf };

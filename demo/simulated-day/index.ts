/** A seeded day with its truth: what `arrange` is given, and what it should find. All names are invented. */
import type { ArrangementTruth, TrueExposure } from '../../src/core/arrange/score.js';
import type { ArrangeInput, KnownFile } from '../../src/core/arrange/types.js';
import type { BodyKey, FileId, FillId, FrameId, GestureId, WriterId } from '../../src/core/ids.js';
import type { ApartKind } from '../../src/core/log/apartSaid.js';
import type { Decision, FoldedLog } from '../../src/core/log/types.js';
import type { Box, FrameMeasured, Subject } from '../../src/core/measure/types.js';
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import type { Timetable } from '../../src/core/plan/types.js';
import { epochMsOf, wallMsOf } from '../../src/core/units.js';
import { apartShots, seenAtTrack, takenAtTrack } from './apartShots.js';
import { type Appearance, makeAppearance } from './appearance.js';
import { type DayOptions, type DetectorOptions, ORDINARY_DAY } from './options.js';
import { photographSession, type ShotBike, type SimulatedShot } from './photographs.js';
import { makeReader, type Reader } from './reader.js';
import { makeRiders, planDay, runDay, runSession, type SimulatedRider, type SimulatedSession } from './trackDay.js';

export type { DayOptions, GroupOptions, Setting } from './options.js';
export { hardDay, ORDINARY_DAY } from './options.js';
export type { SimulatedShot } from './photographs.js';
export { measureStrength } from './strength.js';
export { DAY_START, type SimulatedRider, type SimulatedSession } from './trackDay.js';

export interface SyntheticDay {
  readonly input: ArrangeInput;
  readonly truth: ArrangementTruth;
  readonly timetable: Timetable;
  readonly sessions: readonly SimulatedSession[];
  readonly riders: readonly SimulatedRider[];
  /** The number on a rider's bike, null where there is none or nobody reads any. */
  numberOf(rider: string): string | null;
  /** What frames of no session truly show. */
  readonly apart: ReadonlyMap<FrameId, ApartKind>;
  /** Riders of the session's group who rode by somewhere, seen or not; instructors left out. By session name. */
  readonly onTrack: ReadonlyMap<string, ReadonlySet<string>>;
}

/** Who rode and what was photographed, before anybody looks at a picture. */
export interface PhotographedDay {
  readonly riders: readonly SimulatedRider[];
  readonly timetable: Timetable;
  readonly sessions: readonly SimulatedSession[];
  /** In order of time. */
  readonly shots: readonly NamedShot[];
}

export function photographDay(options: DayOptions): PhotographedDay {
  const riders = makeRiders(options);
  const timetable = planDay(options);
  const sessions = runDay(options, timetable);
  const spotAt = spotsOf(options);
  const shots = sessions.flatMap((session, i) => shootSession(options, session, i, riders, spotAt));
  const all = [...shots, ...apartShots(options, sessions)];
  return { riders, timetable, sessions, shots: nameFiles(options, all, sessions) };
}

/** Shares of a lap. */
const spotsOf = (o: DayOptions): readonly number[] => Array.from({ length: o.spots }, (_, s) => (s + 0.5) / o.spots);

export function syntheticDay(changes: Partial<DayOptions> = {}): SyntheticDay {
  const options: DayOptions = { ...ORDINARY_DAY, ...changes };
  const { riders, timetable, sessions, shots: files } = photographDay(options);
  const measurer: Measurer = {
    appearance: makeAppearance(options, riders),
    reader: makeReader(options, riders),
    detector: options.detector,
    random: seededRandom(options.seed * 3571 + 41),
  };
  const spotAt = spotsOf(options);
  return {
    input: {
      files: files.map(({ file }) => file),
      pixels: new Map(
        files.map(({ file, shot }, i) => {
          const pixels = shot.apart
            ? framed(file, shot.apart.subjects, 0.02)
            : pixelsOf(file, shot, sessions, measurer);
          return [
            file.metadata.frameId,
            shot.apart ? pixels : { ...pixels, subjects: seenAtTrack(options, i, pixels.subjects) },
          ];
        }),
      ),
      log: foldedOf([]),
      zone: 'Europe/London',
      timetable: options.hasTimetable ? timetable : null,
      calibration: {},
    },
    truth: {
      exposures: files.map(({ file, shot }) => trueExposure(file, shot, sessions, riders)),
      groupOf: new Map(sessions.map(({ name, group }) => [name, group])),
      clocks: new Map(options.bodies.map(({ key, fastMs }) => [key as BodyKey, -fastMs])),
    },
    timetable,
    sessions,
    riders,
    apart: new Map(files.flatMap(({ file, shot }) => (shot.apart ? [[file.metadata.frameId, shot.apart.kind]] : []))),
    numberOf: (rider) => measurer.reader?.numbers[riders.findIndex(({ key }) => key === rider)] ?? null,
    onTrack: new Map(sessions.map((session, i) => [session.name, ridersOut(options, session, i, riders, spotAt)])),
  };
}

function ridersOut(
  o: DayOptions,
  session: SimulatedSession,
  index: number,
  riders: readonly SimulatedRider[],
  spotAt: readonly number[],
): ReadonlySet<string> {
  const out = runSession(o, session, index, riders, spotAt).flat();
  return new Set(out.filter(({ rider }) => !riders[rider]!.isInstructor).map(({ rider }) => riders[rider]!.key));
}

function shootSession(
  o: DayOptions,
  session: SimulatedSession,
  index: number,
  riders: readonly SimulatedRider[],
  spotAt: readonly number[],
): readonly SimulatedShot[] {
  const bySpot = runSession(o, session, index, riders, spotAt);
  const bodies = o.bodies.map((_, i) => i);
  const spot = Math.floor(index / o.groups.length) % o.spots;
  if (o.layout === 'one-photographer') return photographSession(o, session, index, bySpot[spot]!, spot, bodies);
  const other = (spot + 1) % o.spots;
  return [
    ...photographSession(o, session, index, bySpot[spot]!, spot, [0]),
    ...photographSession(o, session, index, bySpot[other]!, other, [1]),
  ];
}

export interface NamedShot {
  readonly file: KnownFile;
  readonly shot: SimulatedShot;
}

/** Both bodies name alike, and both roll over from 9999 to 0001. */
function nameFiles(
  o: DayOptions,
  shots: readonly SimulatedShot[],
  sessions: readonly SimulatedSession[],
): readonly NamedShot[] {
  const next = o.bodies.map(({ firstFileNumber }) => firstFileNumber);
  const ordered = [...shots].sort((a, b) => a.wall - b.wall || a.body - b.body);
  return ordered.map((shot, i) => {
    const body = o.bodies[shot.body]!;
    const number = next[shot.body]!;
    next[shot.body] = number === 9999 ? 1 : number + 1;
    const folder =
      100 + Math.floor((number - body.firstFileNumber + (number < body.firstFileNumber ? 9999 : 0)) / 5000);
    const id = idOf(o.seed, i);
    const [make = '', model = '', serial = ''] = body.key.split('|');
    const isMended = body.mended !== undefined && (sessions[shot.session]?.round ?? 0) > body.mended.afterRound;
    const recorded = shot.wall + (isMended ? body.mended!.fastMs : body.fastMs);
    return {
      shot,
      file: {
        fileId: id as string as FileId,
        fill: `fill-${shot.body}` as FillId,
        path: `DCIM/${folder}HXTDY/HXTD${String(number).padStart(4, '0')}.JPG`,
        metadata: {
          v: 1,
          fileId: id as string as FileId,
          frameId: id,
          media: 'jpeg',
          bytes: 8_000_000,
          captured: recordedOf(recorded, body.hasSubSeconds),
          body: { make, model, serial },
          ...(shot.apart?.taken ?? takenAtTrack(o, shot, i)),
          widthPx: 6000,
          heightPx: 4000,
          notes: [],
        },
      },
    };
  });
}

function recordedOf(wall: number, hasSubSeconds: boolean) {
  const iso = new Date(wall).toISOString();
  const text = `${iso.slice(0, 10).replaceAll('-', ':')} ${iso.slice(11, 19)}`;
  return { kind: 'recorded', text, ...(hasSubSeconds ? { subSec: iso.slice(20, 22) } : {}) } as const;
}

const idOf = (seed: number, i: number): FrameId =>
  `${(seed * 0x9e3779b1) >>> 0}`.padStart(16, '0').concat(`${i}`.padStart(16, '0')) as FrameId;

const boxOf = (left: number): Box => [left, 0.3, 0.3, 0.45];

interface Measurer {
  readonly appearance: Appearance;
  readonly reader: Reader | null;
  readonly detector: DetectorOptions | undefined;
  readonly random: Random;
}

function pixelsOf(
  file: KnownFile,
  shot: SimulatedShot,
  sessions: readonly SimulatedSession[],
  measurer: Measurer,
): FrameMeasured {
  const session = sessions[shot.session]!;
  const { detector, random } = measurer;
  const seen = shot.bikes
    .map((bike, i) => subjectOf(bike, i, shot, session, measurer))
    .filter(() => detector === undefined || !random.chance(detector.missedShare));
  const surplus = shot.bikes
    .slice(0, 1)
    .filter(() => detector !== undefined && random.chance(detector.surplusShare))
    .map((bike) => surplusOf(bike, shot.spot, session, measurer));
  return framed(file, [...seen, ...surplus], shot.isDivider ? 0.97 : 0.02);
}

const framed = (file: KnownFile, subjects: readonly Subject[], dividerScore: number): FrameMeasured => ({
  kind: 'measured',
  v: 1,
  frameId: file.metadata.frameId,
  tier: 'preview',
  source: 'mpf-preview',
  subjects: subjects.map((subject, i) => ({ ...subject, isMain: i === 0 })),
  dividerScore,
  sceneDescriptor: '',
  meanLuminance: 0.4,
  clippedShare: 0,
});

function subjectOf(
  { rider, pass, left }: ShotBike,
  i: number,
  shot: SimulatedShot,
  session: SimulatedSession,
  { appearance, reader }: Measurer,
): Subject {
  const box = boxOf(left);
  return {
    what: 'motorcycle',
    box,
    bikeBox: box,
    score: 0.9,
    isMain: i === 0,
    isCut: left < 0.05,
    bikeColours: appearance.bikeColours(rider),
    riderColours: appearance.riderColours(rider, session),
    sharpness: { alongX: 0.5, alongY: 0.5, overall: 0.5, scalePx: 1616 },
    descriptor: appearance.descriptor(rider, session, shot.spot, pass),
    ...(reader === null ? {} : { numbers: reader.read(rider, pass, box) }),
  };
}

/** Share of surplus boxes that are a piece of the bike itself; the others are a bike parked behind the barrier. */
const PIECE_SHARE = 0.7;

/** A box where no bike goes by: too little of one to be matched with the truth. */
function surplusOf(
  { rider, left }: ShotBike,
  spot: number,
  session: SimulatedSession,
  { appearance, reader, random }: Measurer,
): Subject {
  const isPiece = random.chance(PIECE_SHARE);
  const box: Box = isPiece ? [left + 0.06, 0.42, 0.19, 0.28] : [0.79, 0.08, 0.2, 0.18];
  return {
    what: 'motorcycle',
    box,
    bikeBox: box,
    score: isPiece ? 0.45 : 0.6,
    isMain: false,
    isCut: false,
    bikeColours: isPiece ? appearance.bikeColours(rider) : [{ name: 'white', share: 1, lab: [90, 0, 0] }],
    riderColours: isPiece ? appearance.riderColours(rider, session) : [],
    sharpness: { alongX: 0.3, alongY: 0.3, overall: 0.3, scalePx: 1616 },
    descriptor: isPiece ? appearance.piece(rider, session) : appearance.parked(spot),
    ...(reader === null ? {} : { numbers: [] }),
  };
}

function trueExposure(
  file: KnownFile,
  shot: SimulatedShot,
  sessions: readonly SimulatedSession[],
  riders: readonly SimulatedRider[],
): TrueExposure {
  return {
    frameId: file.metadata.frameId,
    wall: wallMsOf(shot.wall),
    session: shot.isDivider ? null : (sessions[shot.session]?.name ?? null),
    bikes: shot.bikes.map(({ rider, pass, left }) => ({
      box: boxOf(left),
      rider: riders[rider]!.key,
      pass: `${pass}/${shot.body}`,
    })),
  };
}

/** A log in which these decisions stand, each its own gesture, in this order. */
export function foldedOf(decisions: readonly Decision[]): FoldedLog {
  const inForce = decisions.map((decision, i) => ({
    decision,
    line: {
      writer: 'writer-1' as WriterId,
      seq: i + 1,
      v: 1,
      lamport: i + 1,
      gesture: `gesture-${i + 1}` as GestureId,
      at: epochMsOf(0),
      decision,
    },
  }));
  return {
    lines: inForce.map(({ line }) => line),
    gestures: inForce.map(({ line }) => line.gesture),
    inForce,
    nextLamport: decisions.length + 1,
  };
}

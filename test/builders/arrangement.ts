/**
 * Small days made by hand for tests: sessions, passes and riders as `arrange` would yield them, with the
 * measurements behind them. All names, numbers and liveries are invented.
 */
import type { Arrangement, Exposure, Pass, Rider, Session } from '../../src/core/arrange/types.js';
import type {
  BodyKey,
  FileId,
  FillId,
  FrameId,
  GestureId,
  RiderId,
  RiderKey,
  SpotId,
  WriterId,
} from '../../src/core/ids.js';
import type { Decision, FoldedLog } from '../../src/core/log/types.js';
import type { Box, ColourName, FrameMeasured, FrameMeasurement, Subject } from '../../src/core/measure/types.js';
import type { EpochMs, WallMs } from '../../src/core/units.js';

export interface FrameSpec {
  /** Sharpness; 1 is what a good frame reaches here. Null: not measured. */
  readonly sharp?: number | null;
  readonly isCut?: boolean;
  readonly box?: Box;
  readonly scalePx?: number;
  /** Read on the bike, whole. */
  readonly number?: string;
  /** Another rider's bike in the same frame: the frame of that pass, by `pass/frame`. */
  readonly sameFrameAs?: readonly [pass: number, frame: number];
}

export interface PassSpec {
  readonly rider: string;
  readonly session: number;
  readonly spot?: string | null;
  /** `HH:MM:SS` on the day. */
  readonly at: string;
  readonly frames: readonly FrameSpec[];
}

export interface RiderSpec {
  readonly number?: string;
  /** Confidence of a number that was read; a number without it was said by a person. */
  readonly numberConfidence?: number;
  readonly livery?: string;
  readonly colours?: readonly ColourName[];
  readonly id?: string;
  readonly aliases?: readonly string[];
  readonly isInstructor?: true;
}

export interface DaySpec {
  readonly sessions: readonly {
    readonly name: string;
    readonly group: string | null;
    readonly start: string;
    readonly end: string;
  }[];
  readonly passes: readonly PassSpec[];
  readonly riders?: Readonly<Record<string, RiderSpec>>;
}

export interface BuiltDay {
  readonly arrangement: Arrangement;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  /** Frame ids by pass and place in it. */
  readonly frames: readonly (readonly FrameId[])[];
}

const DAY_MS = Date.UTC(2026, 8, 19);
const BODY = 'Invented|One|1' as BodyKey;
const FILL = '00000000-0000-4000-8000-000000000001' as FillId;

/** Wall time `HH:MM:SS` of the invented day, 19 September 2026. */
export function wallAt(time: string): WallMs {
  const [hours = 0, minutes = 0, seconds = 0] = time.split(':').map(Number);
  return (DAY_MS + ((hours * 60 + minutes) * 60 + seconds) * 1000) as WallMs;
}

const hex = (kind: string, n: number): string => `${kind}${n.toString(16)}`.padStart(32, '0');
export const frameIdOf = (n: number): FrameId => hex('f', n) as FrameId;
export const fileIdOf = (n: number): FileId => hex('a', n) as FileId;

export function subjectOf(spec: FrameSpec, isMain = true): Subject {
  const box = spec.box ?? [0.3, 0.3, 0.4, 0.4];
  const sharp = spec.sharp === undefined ? 1 : spec.sharp;
  return {
    what: 'motorcycle',
    box,
    bikeBox: box,
    score: 0.9,
    isMain,
    isCut: spec.isCut ?? false,
    bikeColours: [],
    riderColours: [],
    sharpness:
      sharp === null
        ? { kind: 'absent', reason: 'too small' }
        : { alongX: sharp, alongY: sharp, overall: sharp, scalePx: spec.scalePx ?? 1620 },
    descriptor: '',
    ...(spec.number === undefined
      ? {}
      : { numbers: [{ text: spec.number, confidence: 0.99, isWhole: true, box, turnedDeg: 0 }] }),
  };
}

const measured = (frameId: FrameId, subjects: readonly Subject[]): FrameMeasured => ({
  kind: 'measured',
  v: 1,
  frameId,
  tier: 'preview',
  source: 'mpf-preview',
  subjects,
  dividerScore: 0,
  sceneDescriptor: '',
  meanLuminance: 0.4,
  clippedShare: 0,
});

/** Lays a day out: frames numbered in order of the passes, 0.3 s between the frames of a pass. */
export function buildDay(spec: DaySpec): BuiltDay {
  const pixels = new Map<FrameId, FrameMeasured>();
  const exposures: Exposure[] = [];
  const frames: FrameId[][] = [];
  const passes = spec.passes.map((pass, index) => layPass(pass, index, { pixels, exposures, frames }));
  const sessions = spec.sessions.map((session, index) => laySession(session, index, exposures));
  const riders = [...new Set(spec.passes.map((pass) => pass.rider))].map((key) =>
    layRider(key, spec, passes, sessions),
  );
  return {
    arrangement: { clocks: [], exposures, sessions, passes, riders, questions: [], saidBikes: [] },
    pixels,
    frames,
  };
}

interface Laying {
  readonly pixels: Map<FrameId, FrameMeasured>;
  readonly exposures: Exposure[];
  readonly frames: FrameId[][];
}

function layPass(pass: PassSpec, index: number, laying: Laying): Pass {
  const start = wallAt(pass.at);
  const own: FrameId[] = [];
  laying.frames.push(own);
  const bikes = pass.frames.map((frame, place) => {
    const shared = frame.sameFrameAs && laying.frames[frame.sameFrameAs[0]]?.[frame.sameFrameAs[1]];
    const frameId = shared ?? frameIdOf(laying.exposures.length + 1);
    const before = laying.pixels.get(frameId)?.subjects ?? [];
    laying.pixels.set(frameId, measured(frameId, [...before, subjectOf(frame, before.length === 0)]));
    if (!shared) laying.exposures.push(exposureOf(laying.exposures.length + 1, start + place * 300, index, pass));
    own.push(frameId);
    return { frameId, subject: before.length };
  });
  const end = (start + Math.max(0, pass.frames.length - 1) * 300) as WallMs;
  const spot = (pass.spot ?? null) as SpotId | null;
  return { index, session: pass.session, spot, body: BODY, start, end, bikes, rider: pass.rider as RiderKey };
}

function exposureOf(n: number, wall: number, burst: number, pass: PassSpec): Exposure {
  return {
    frameId: frameIdOf(n),
    mainFile: fileIdOf(n),
    files: [fileIdOf(n)],
    body: BODY,
    fill: FILL,
    path: `DCIM/100INVEN/INV_${String(n).padStart(4, '0')}.JPG`,
    fileNumber: n,
    recorded: wall as WallMs,
    wall: wall as WallMs,
    instant: (wall - 3_600_000) as EpochMs,
    role: 'bike',
    session: pass.session,
    burst,
    spot: (pass.spot ?? null) as SpotId | null,
  };
}

function laySession(session: DaySpec['sessions'][number], index: number, exposures: readonly Exposure[]): Session {
  return {
    index,
    name: session.name,
    group: session.group,
    slot: session.group === null ? null : session.name,
    start: wallAt(session.start),
    end: wallAt(session.end),
    startSource: { kind: 'measured' },
    groupSource: { kind: 'measured' },
    frames: exposures.filter((exposure) => exposure.session === index).map((exposure) => exposure.frameId),
  };
}

function layRider(key: string, spec: DaySpec, passes: readonly Pass[], sessions: readonly Session[]): Rider {
  const about = spec.riders?.[key] ?? {};
  const own = passes.filter((pass) => pass.rider === key);
  const groups = [...new Set(own.map((pass) => sessions[pass.session]?.group ?? null))].filter(
    (group) => group !== null,
  );
  return {
    key: key as RiderKey,
    id: (about.id ?? null) as RiderId | null,
    aliases: (about.aliases ?? []) as readonly RiderId[],
    code: `${groups[0] ?? '?'}-${key}`,
    number: about.number ?? null,
    numberSource: numberSourceOf(about),
    group: groups[0] ?? null,
    groups,
    passes: own.map((pass) => pass.index),
    bikeColours: (about.colours ?? ['black']).map((name) => ({ name, share: 0.4, lab: [50, 0, 0] as const })),
    riderColours: [],
    livery: about.livery ?? (about.colours ?? ['black']).join(' / '),
    mainColours: about.colours ?? ['black'],
    source: { kind: 'guessed', confidence: 0.9, reasons: ['invented for a test'] },
    face: own[0]!.bikes[0]!,
    ...(about.isInstructor ? { isInstructor: true } : {}),
  };
}

function numberSourceOf(about: RiderSpec): Rider['numberSource'] {
  if (about.number === undefined) return null;
  if (about.numberConfidence === undefined) return { kind: 'said' };
  return { kind: 'guessed', confidence: about.numberConfidence, reasons: ['read in two frames'] };
}

/** A folded log with these decisions in force, one gesture each, said one after the other by one writer. */
export function logOf(decisions: readonly Decision[]): FoldedLog {
  const inForce = decisions.map((decision, i) => ({
    line: {
      writer: 'writer-one' as WriterId,
      seq: i + 1,
      v: 1,
      lamport: i + 1,
      gesture: `gesture-${i + 1}` as GestureId,
      at: (DAY_MS + i) as EpochMs,
      decision,
    },
    decision,
  }));
  return {
    lines: inForce.map(({ line }) => line),
    gestures: inForce.map(({ line }) => line.gesture),
    inForce,
    nextLamport: decisions.length + 1,
  };
}

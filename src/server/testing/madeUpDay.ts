/** A made-up arrangement at the size of a real day: for tests of the desk, its bench, and looking at its screens. */
import type { Exposure, Pass, Question, Session } from '../../core/arrange/types.js';
import type { BodyKey, FileId, FillId, FrameId, RiderKey, SpotId } from '../../core/ids.js';
import type { SeenCard } from '../../core/measure/cards/index.js';
import type { ColourName, ColourShare, FileMetadata, FrameMeasured, Subject } from '../../core/measure/types.js';
import { type Random, seededRandom } from '../../core/numeric/random.js';
import type { Timetable } from '../../core/plan/types.js';
import { epochMsOf, millisecondsOf, type WallMs, wallMsOf } from '../../core/units.js';
import type { DrawnBike } from './fakePictures.js';

export interface MadeUpOptions {
  readonly frames: number;
  readonly riders: number;
  /** Wall hour after which there are no frames yet. */
  readonly untilHour: number;
  /** The last so many frames are copied, not measured. */
  readonly unmeasured: number;
  readonly hasTimetable: boolean;
  readonly hasStands: boolean;
  readonly hasSpots: boolean;
  /** Passes that are not placed, doubts about others, an instructor, two riders alike, and riders not seen. */
  readonly hasDoubts: boolean;
  /** So many of the first frames are kept apart from the sessions. */
  readonly apartFrames: number;
  /** Of so many frames after those it is open: they may be apart. */
  readonly perhapsFrames: number;
  /** Our cards in frames, by their place in the day. */
  readonly cards: readonly (readonly [place: number, card: (recorded: WallMs) => SeenCard])[];
  readonly seed: number;
}

export const MADE_UP: MadeUpOptions = {
  frames: 3500,
  riders: 96,
  untilHour: 13,
  unmeasured: 0,
  hasTimetable: true,
  hasStands: true,
  hasSpots: true,
  hasDoubts: false,
  apartFrames: 0,
  perhapsFrames: 0,
  cards: [],
  seed: 7,
};

export const DAY = '2026-09-19';
export const MIDNIGHT = Date.parse(`${DAY}T00:00:00Z`);
export const atClock = (hour: number, minute = 0, second = 0): WallMs =>
  wallMsOf(MIDNIGHT + ((hour * 60 + minute) * 60 + second) * 1000);

export const SPOTS = ['Beacon', 'Gannet', 'Slipway', 'Lifeboat', 'Strand', 'Coble'].map((name, i) => ({
  id: name.toLowerCase() as SpotId,
  number: i + 1,
  name,
}));

const GROUPS = [
  { key: 'N', name: 'Novice' },
  { key: 'I', name: 'Inters' },
  { key: 'F', name: 'Fast' },
];

/** Hours of the seven rounds; lunch is at one. */
const ROUND_HOURS = [9, 10, 11, 12, 14, 15, 16];
/** Where one stood in each round. */
const ROUND_SPOTS = [0, 1, 2, 3, 4, 5, 1];

export const TIMETABLE: Timetable = {
  groups: GROUPS,
  slots: ROUND_HOURS.flatMap((hour, round) =>
    GROUPS.map((group, i) => ({
      name: `${group.key}${round + 1}`,
      group: group.key,
      start: atClock(hour, i * 20),
      end: atClock(hour, i * 20 + 20),
      ...(round === 0 ? { isSighting: true } : {}),
    })),
  ),
  slipRule: 'clock-fixed',
  fastestLapMs: millisecondsOf(95_000),
};

export const STANDS = ROUND_HOURS.map((hour, round) => ({
  spot: SPOTS[ROUND_SPOTS[round] ?? 0]!.id,
  from: atClock(hour, round === 0 ? 0 : 4),
  to: atClock(hour, 60),
}));

const PAINT: Readonly<Partial<Record<ColourName, string>>> = {
  black: '#1B1D1F',
  white: '#F4F4F0',
  silver: '#C9CCCE',
  red: '#CC2027',
  orange: '#EE7E1C',
  yellow: '#EBC81E',
  lime: '#8CD22C',
  green: '#14874B',
  teal: '#1B9AA0',
  blue: '#2347C9',
  navy: '#1C2A56',
  purple: '#6B2DB5',
  pink: '#E0218A',
};
const COLOURS = Object.keys(PAINT) as ColourName[];
const SCENES: readonly (readonly [string, string, string])[] = [
  ['#8b8d8c', '#b33a2e', '#b9c6cf'],
  ['#7f8281', '#2d5d9b', '#aebdc9'],
  ['#94928c', '#b33a2e', '#c8cfd2'],
  ['#85888a', '#c9b23a', '#b3bfc6'],
  ['#8f8e88', '#2d5d9b', '#c2ccd0'],
  ['#7a7d7e', '#b33a2e', '#a9b8c2'],
];

/** A rider of the truth, before anybody's decision. */
export interface TrueRider {
  readonly group: string;
  readonly number: string | null;
  readonly bike: readonly [ColourName, ColourName];
  readonly leathers: ColourName;
  readonly helmet: ColourName;
  readonly confidence: number;
  /** How rarely the photographer catches this one, 0–1. */
  readonly isRare: boolean;
}

export interface MadeUp {
  readonly exposures: readonly Exposure[];
  readonly metadata: ReadonlyMap<string, FileMetadata>;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasured>;
  readonly sessions: readonly Session[];
  /** Passes with the index of their true rider. */
  readonly passes: readonly (Omit<Pass, 'rider'> & { readonly truth: number })[];
  readonly riders: readonly TrueRider[];
  readonly questions: (keyOf: (truth: number) => RiderKey, faceOf: (truth: number) => FrameId) => readonly Question[];
  readonly drawn: (frame: FrameId) => DrawnBike | null;
}

const hexId = (kind: number, index: number): string => `${kind}${index.toString(16).padStart(7, '0')}`.repeat(4);
export const BODIES = ['Halden|H2|000412', 'Halden|H2|001245'] as unknown as readonly BodyKey[];
export const FILLS = [
  'b1f5c1de-0000-4000-8000-0000000000a1',
  'b1f5c1de-0000-4000-8000-0000000000b1',
] as unknown as readonly FillId[];

const shares = (...names: ColourName[]): readonly ColourShare[] =>
  names.map((name, i) => ({
    name,
    share: i === 0 ? 0.62 : 0.3 / Math.max(1, names.length - 1),
    lab: [50, 0, 0] as const,
  }));

const makeRiders = (random: Random, count: number): readonly TrueRider[] =>
  Array.from({ length: count }, (_, i) => ({
    group: GROUPS[i % 3]!.key,
    number: random.chance(0.45) ? String(random.integer(2, 399)) : null,
    bike: [random.oneOf(COLOURS), random.oneOf(COLOURS)] as const,
    leathers: random.oneOf(['black', 'white', 'navy', 'red', 'blue'] as const),
    helmet: random.oneOf(COLOURS),
    confidence: random.chance(0.12) ? random.between(0.35, 0.58) : random.between(0.78, 0.99),
    // The first dozen are asked about in the questions, so they are always seen.
    isRare: i >= 12 && random.chance(0.3),
  }));

interface Making {
  readonly random: Random;
  readonly exposures: Exposure[];
  readonly metadata: Map<string, FileMetadata>;
  readonly pixels: Map<FrameId, FrameMeasured>;
  readonly drawn: Map<FrameId, DrawnBike>;
  readonly passes: (Omit<Pass, 'rider'> & { readonly truth: number })[];
}

function addFrame(
  making: Making,
  wall: WallMs,
  session: number,
  spot: number,
  role: 'bike' | 'divider',
  rider: TrueRider | null,
): FrameId {
  const { random } = making;
  const i = making.exposures.length;
  const frameId = hexId(1, i) as FrameId;
  const fileId = hexId(2, i) as FileId;
  const body = i % 3 === 0 ? 1 : 0;
  const scale = random.between(0.75, 1.35);
  const at = [random.between(0.4, 0.6), random.between(0.52, 0.64)] as const;
  const width = Math.min(0.98, (300 * scale) / 640);
  const height = Math.min(0.98, (255 * scale) / 427);
  const left = Math.max(0, Math.min(1 - width, at[0] - width / 2));
  const top = Math.max(0, Math.min(1 - height, at[1] - height * 0.55));
  const isSoft = random.chance(rider?.isRare ? 0.75 : 0.3);
  const isSlow = random.chance(0.3);
  making.exposures.push({
    frameId,
    mainFile: fileId,
    files: [fileId],
    body: BODIES[body]!,
    fill: FILLS[body]!,
    path: `DCIM/10${body}HALDE/H${body}_${String((i % 9999) + 1).padStart(4, '0')}.JPG`,
    fileNumber: (i % 9999) + 1,
    recorded: wall,
    wall,
    instant: epochMsOf(wall - 3_600_000),
    role,
    session,
    burst: null,
    spot: SPOTS[spot]!.id,
  });
  making.metadata.set(fileId, {
    v: 1,
    fileId,
    frameId,
    media: 'jpeg',
    bytes: 8_000_000,
    captured: { kind: 'recorded', text: '2026:09:19 09:00:00' },
    body: { make: 'Halden', model: 'H2', serial: body === 0 ? '000412' : '001245' },
    lens: {},
    exposure: { shutterS: isSlow ? 1 / 125 : 1 / 500, fNumber: 8, iso: 200 },
    widthPx: 6000,
    heightPx: 4000,
    notes: [],
  });
  const subject: Subject | null = rider && {
    what: 'motorcycle',
    box: [left, top, width, height],
    bikeBox: [left, top, width, height],
    score: 0.9,
    isMain: true,
    isCut: random.chance(0.06),
    bikeColours: shares(...new Set(rider.bike)),
    riderColours: shares(rider.leathers),
    sharpness: {
      alongX: 1,
      alongY: 1,
      overall: isSoft ? random.between(0.1, 0.4) : random.between(0.8, 1.4),
      scalePx: 1024,
    },
    descriptor: '',
    // Clouds and a meter that is off, without a draw of their own: all else stays the same day.
    light: {
      ground: {
        stops: -1.6 + 1.4 * ((left * 97) % 1),
        red: 0.3 * ((top * 89) % 1) - 0.1,
        blue: 0.1 - 0.2 * ((top * 83) % 1),
      },
      subject: { stops: -2.2 + 1.4 * ((left * 97) % 1), red: 0.4, blue: -0.2 },
    },
  };
  making.pixels.set(frameId, {
    kind: 'measured',
    v: 1,
    frameId,
    tier: 'preview',
    source: 'mpf-preview',
    subjects: subject ? [subject] : [],
    dividerScore: rider ? 0.02 : 0.98,
    sceneDescriptor: '',
    meanLuminance: 0.4,
    clippedShare: 0,
  });
  if (rider)
    making.drawn.set(frameId, {
      bike: [PAINT[rider.bike[0]]!, PAINT[rider.bike[1]]!],
      leathers: PAINT[rider.leathers]!,
      helmet: PAINT[rider.helmet]!,
      number: rider.number,
      scene: SCENES[spot]!,
      at,
      scale,
      leanDeg: random.between(-14, 10),
      isMirrored: spot % 2 === 1,
      blurPx: isSoft ? 3 : 0,
    });
  return frameId;
}

/** Passes of one session: riders of the group come by in turn, some never in front of the lens. */
function addSession(
  making: Making,
  session: Omit<Session, 'frames'>,
  spot: number,
  riders: readonly TrueRider[],
  frames: number,
): Session {
  const { random } = making;
  const first = making.exposures.length;
  const own = riders.flatMap((rider, truth) => (rider.group === session.group ? [truth] : []));
  const seen = own.filter((truth) => random.chance(riders[truth]!.isRare ? 0.4 : 0.9));
  const start = session.start + 3 * 60_000;
  // Two to four frames a pass, so three of them on average; the last ones may fall closer together.
  const step = (session.end - start) / (frames / 2.6 + 1);
  let wall = start;
  for (let turn = 0; seen.length > 0 && making.exposures.length - first < frames; turn++) {
    const truth = seen[turn % seen.length]!;
    const isRare = riders[truth]!.isRare;
    if (isRare && turn >= seen.length) continue;
    wall = Math.min(session.end - 2000, wall + Math.round(step * random.between(0.7, 1.3)));
    const ids = Array.from({ length: isRare ? 1 : random.integer(2, 4) }, (_, i) =>
      addFrame(making, wallMsOf(wall + i * 160), session.index, spot, 'bike', riders[truth]!),
    );
    making.passes.push({
      index: making.passes.length,
      session: session.index,
      spot: SPOTS[spot]!.id,
      body: making.exposures.at(-1)!.body,
      start: wallMsOf(wall),
      end: wallMsOf(wall + ids.length * 160),
      bikes: ids.map((frameId) => ({ frameId, subject: 0 })),
      truth,
    });
  }
  addFrame(making, session.end, session.index, spot, 'divider', null);
  return { ...session, frames: making.exposures.slice(first).map((exposure) => exposure.frameId) };
}

export function makeUpDay(options: MadeUpOptions): MadeUp {
  const random = seededRandom(options.seed);
  const riders = makeRiders(random, options.riders);
  const making: Making = {
    random,
    exposures: [],
    metadata: new Map(),
    pixels: new Map(),
    drawn: new Map(),
    passes: [],
  };
  const slots = TIMETABLE.slots.filter((slot) => slot.start < atClock(options.untilHour));
  const sessions = slots.map((slot, index): Session => {
    const round = Math.floor(index / 3);
    return addSession(
      making,
      {
        index,
        name: options.hasTimetable ? slot.name : String(index + 1),
        group: slot.group,
        slot: options.hasTimetable ? slot.name : null,
        start: slot.start,
        end: slot.end,
        startSource:
          index % 4 === 3
            ? { kind: 'guessed', confidence: 0.7, reasons: ['a gap of 3 min; no divider'] }
            : { kind: 'measured' },
        groupSource: { kind: 'guessed', confidence: 0.93, reasons: ['the timetable has this group here'] },
      },
      ROUND_SPOTS[round] ?? 0,
      riders,
      Math.round(options.frames / slots.length),
    );
  });
  return {
    ...making,
    sessions: options.hasTimetable ? sessions : sessions.map((session) => ({ ...session, group: null })),
    riders,
    drawn: (frame) => making.drawn.get(frame) ?? null,
    questions: (keyOf, faceOf) => madeUpQuestions(riders, keyOf, faceOf),
  };
}

function madeUpQuestions(
  riders: readonly TrueRider[],
  keyOf: (truth: number) => RiderKey,
  faceOf: (truth: number) => FrameId,
): readonly Question[] {
  const same = (a: number, b: number, confidence: number, worth: number): Question => ({
    kind: 'same-rider',
    id: `same-${a}-${b}`,
    a: keyOf(a),
    b: keyOf(b),
    faces: [
      { frameId: faceOf(a), subject: 0 },
      { frameId: faceOf(b), subject: 0 },
    ],
    confidence,
    reasons: ['a lap of 1:52 fits', 'the leathers are alike', 'against: another helmet'],
    worth,
  });
  const clock: Question = {
    kind: 'body-clock',
    id: 'clock-1',
    body: BODIES[1]!,
    offsetMs: millisecondsOf(-3_664_000),
    reasons: [
      '37 passes fall together with the other body’s when it is taken off',
      'no session would be without a picture',
    ],
    worth: 40,
  };
  const lineUp = Array.from({ length: Math.min(8, riders.length - 6) }, (_, i) =>
    same(0, 3 + i * 3 < riders.length ? 3 + i * 3 : 3, 0.84 - i * 0.07, 12 - i),
  );
  const distinct = [...new Map(lineUp.map((question) => [question.id, question])).values()];
  return [
    clock,
    ...distinct,
    same(1, 4, 0.62, 9),
    {
      kind: 'boundary',
      id: 'border-1',
      at: atClock(10, 20, 4),
      reasons: ['a frame of sky alone', 'the timetable has a border one minute later'],
      worth: 6,
    },
  ];
}

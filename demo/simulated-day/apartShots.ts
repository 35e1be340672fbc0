/**
 * Frames of briefing, paddock, portraits and podium, as a photographer takes them beside the sessions, and with them what
 * the camera writes of lens, shutter and flash. Shares are common practice, no source.
 */
import type { ApartKind } from '../../src/core/log/apartSaid.js';
import type { Box, FileMetadata, Subject } from '../../src/core/measure/types.js';
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import type { DayOptions } from './options.js';
import type { SimulatedShot } from './photographs.js';
import type { SimulatedSession } from './trackDay.js';

export interface ApartShot {
  readonly kind: ApartKind;
  readonly taken: Taken;
  readonly subjects: readonly Subject[];
}

type Taken = Pick<FileMetadata, 'lens' | 'exposure'>;

const MINUTE = 60_000;
const LUNCH_FRAMES = 24;

export function apartShots(o: DayOptions, sessions: readonly SimulatedSession[]): readonly SimulatedShot[] {
  if (o.hasApartFrames !== true) return [];
  const random = seededRandom(o.seed * 12_289 + 3);
  const first = sessions[0]!.start;
  const last = sessions.at(-1)!.end;
  const lunch = sessions.find(({ isAfternoon }) => isAfternoon)?.start ?? last + 60 * MINUTE;
  const inGap = sessions.slice(1, 4).map(({ start }) => start - 1.5 * MINUTE);
  return [
    ...walk(o, random, first - 40 * MINUTE, 8, briefing),
    ...walk(o, random, first - 20 * MINUTE, 12, paddock),
    ...walk(o, random, lunch - 45 * MINUTE, LUNCH_FRAMES, (r) => (r.chance(0.5) ? paddock(r) : portrait(r))),
    // Between two sessions of the morning: there is hardly time, and hardly a clue but the lens.
    ...inGap.flatMap((at) => walk(o, random, at, 2, portrait)),
    ...walk(o, random, last + 25 * MINUTE, 10, podium),
  ];
}

/** Several frames with seconds to a minute between them, most of them on the body one carries for it. */
function walk(
  o: DayOptions,
  random: Random,
  from: number,
  count: number,
  make: (random: Random) => ApartShot,
): readonly SimulatedShot[] {
  let at = from;
  return Array.from({ length: count }, (): SimulatedShot => {
    at += 1000 * random.between(2, 40);
    const body = random.chance(0.8) ? o.bodies.length - 1 : 0;
    return { wall: Math.round(at), body, session: -1, spot: 0, isDivider: false, bikes: [], apart: make(random) };
  });
}

const briefing = (random: Random): ApartShot => ({
  kind: 'briefing',
  taken: taken(random.between(24, 50), random.between(1 / 125, 1 / 60), random.chance(0.3)),
  subjects: people(random, random.integer(6, 14), random.between(0.3, 0.5)),
});

const podium = (random: Random): ApartShot => ({
  kind: 'podium',
  taken: taken(random.between(35, 85), random.between(1 / 320, 1 / 125), random.chance(0.6)),
  subjects: people(random, random.integer(2, 4), random.between(0.5, 0.8)),
});

/** One in five sits on the bike. */
function portrait(random: Random): ApartShot {
  const by = random.chance(0.5) ? [bike([0.1, 0.35, 0.5, 0.5], random.chance(0.4))] : [];
  return {
    kind: 'portrait',
    taken: taken(random.between(50, 105), random.between(1 / 250, 1 / 80), random.chance(0.4)),
    subjects: [...by, ...people(random, 1, 0.75)],
  };
}

/** A row of bikes at their stands, some with the long lens of the track. */
function paddock(random: Random): ApartShot {
  const count = random.integer(2, 5);
  const width = 0.8 / count;
  return {
    kind: 'paddock',
    taken: taken(random.chance(0.85) ? random.between(24, 70) : random.between(200, 400), 1 / 200, false),
    subjects: Array.from({ length: count }, (_, i) => bike([0.1 + i * width, 0.4, width, 0.3], false)),
  };
}

const taken = (focalLengthMm: number, shutterS: number, isFlash: boolean): Taken => ({
  lens: { focalLengthMm },
  exposure: { shutterS, ...(isFlash ? { flash: 'fired' } : {}) },
});

const people = (random: Random, count: number, height: number): readonly Subject[] =>
  Array.from({ length: count }, (_, i) => ({
    ...NOTHING_MEASURED,
    what: 'person',
    box: [(i * 0.9) / count, 0.15, 0.8 / count, height * random.between(0.9, 1.1)],
    bikeBox: [0, 0, 0, 0],
  }));

const bike = (box: Box, isRidden: boolean): Subject => ({
  ...NOTHING_MEASURED,
  what: 'motorcycle',
  box,
  bikeBox: box,
  ...(isRidden ? { riderBox: box } : {}),
});

const NOTHING_MEASURED = {
  score: 0.8,
  isMain: false,
  isCut: false,
  bikeColours: [],
  riderColours: [],
  sharpness: { kind: 'absent', reason: 'not looked at' },
  descriptor: '',
} as const;

/** At the track: a long lens, one frame in thirty and the whole second session a wide one, one frame in seven a slow one. */
export function takenAtTrack(o: DayOptions, { session }: SimulatedShot, i: number): Taken {
  if (o.hasApartFrames !== true) return { lens: {}, exposure: {} };
  const random = seededRandom(o.seed * 7643 + i * 11);
  const isWide = session === 1 || random.chance(1 / 30);
  const focal = isWide ? random.between(24, 70) : random.between(250, 500);
  return taken(focal, random.chance(1 / 7) ? 1 / 60 : 1 / 1000, false);
}

/** One frame in fifty of the track is of a marshal, or of a bike that was missed with a marshal behind it. */
export function seenAtTrack(o: DayOptions, i: number, subjects: readonly Subject[]): readonly Subject[] {
  if (o.hasApartFrames !== true) return subjects;
  const random = seededRandom(o.seed * 6871 + i * 13);
  if (random.chance(1 / 50)) return people(random, random.integer(1, 3), random.between(0.1, 0.45));
  return subjects.map((subject) => (random.chance(0.9) ? { ...subject, riderBox: subject.box } : subject));
}

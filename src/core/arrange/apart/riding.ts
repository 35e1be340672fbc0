/** When and with what the day's riding was photographed: what a frame apart stands out from. */
import type { FrameThen, Seen } from './types.js';

/** Nobody photographed riding for so long on either side: between sessions. */
const QUIET_MS = 180_000;
/** So few riders by a wide lens may be sitting on their bikes in the paddock; a session seen by one has more. */
const MOST_SITTING = 4;
/** From this share of the usual focal length down a lens is wide. */
export const WIDE = 0.34;
/** A photographer who took a rider so shortly before and after was not in the paddock. */
const BESIDE_MS = 60_000;
/** Fewer frames of riders say nothing about what is usual. */
const LEAST_RIDING = 20;

export interface Riding {
  /** Focal length of the middle frame of riders; null where there are too few. */
  readonly usualMm: number | null;
  /** Bodies that took no rider, while others did. */
  readonly idleBodies: ReadonlySet<string>;
  /** Somebody was found on a bike: so a bike with nobody on it says something. */
  readonly tellsRiders: boolean;
  isQuiet(frame: FrameThen): boolean;
  /** Its body took riders just before it and just after. */
  isBetweenRiders(frame: FrameThen): boolean;
}

/** Where nobody was found on any bike of the day, every bike may be a ridden one. */
export function ridingOf(frames: readonly FrameThen[], seen: readonly Seen[]): Riding {
  const tellsRiders = seen.some(({ isRidden }) => isRidden);
  const isRiding = frames.map((_, i) => (tellsRiders ? seen[i]!.isRidden : seen[i]!.bikes > 0));
  // What is not measured yet may show riders.
  const mayRide = frames.map(({ role }, i) => isRiding[i]! || role === 'unmeasured' || role === 'unmeasurable');
  const wallsOf = (isWanted: readonly boolean[], body?: string): readonly number[] =>
    frames
      .flatMap((frame, i) => (isWanted[i] && (body === undefined || frame.body === body) ? (frame.wall ?? []) : []))
      .sort((a, b) => a - b);
  const bodies = new Set(frames.map(({ body }) => body));
  const ofBody = new Map([...bodies].map((body) => [body, wallsOf(isRiding, body)]));
  const ridden = frames.filter((_, i) => isRiding[i]);
  const usualMm = usualFocal(ridden);
  const isWide = frames.map(
    (frame, i) => isRiding[i]! && usualMm !== null && (focalOf(frame) ?? usualMm) <= WIDE * usualMm,
  );
  const surely = wallsOf(mayRide.map((may, i) => may && !isWide[i]));
  const perhaps = wallsOf(isWide);
  return {
    usualMm,
    tellsRiders,
    idleBodies: new Set(
      ridden.length < LEAST_RIDING
        ? []
        : [...bodies].filter((body) => !frames.some((frame, i) => frame.body === body && mayRide[i])),
    ),
    isQuiet: ({ wall }) =>
      wall !== null &&
      countWithin(surely, wall, -QUIET_MS, QUIET_MS) === countWithin(surely, wall, 0, 0) &&
      countWithin(perhaps, wall, -QUIET_MS, QUIET_MS) <= MOST_SITTING,
    isBetweenRiders: ({ wall, body }) => {
      const own = ofBody.get(body) ?? [];
      return wall !== null && countWithin(own, wall, -BESIDE_MS, -1) > 0 && countWithin(own, wall, 1, BESIDE_MS) > 0;
    },
  };
}

/** Both ends in. */
const countWithin = (walls: readonly number[], wall: number, from: number, to: number): number =>
  firstFrom(walls, wall + to + 1) - firstFrom(walls, wall + from);

function firstFrom(walls: readonly number[], wall: number): number {
  let low = 0;
  let high = walls.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (walls[middle]! < wall) low = middle + 1;
    else high = middle;
  }
  return low;
}

export const focalOf = ({ metadata: { lens } }: FrameThen): number | null =>
  lens.focalLength35Mm ?? lens.focalLengthMm ?? null;

function usualFocal(frames: readonly FrameThen[]): number | null {
  const known = frames.flatMap((frame) => focalOf(frame) ?? []).sort((a, b) => a - b);
  return known.length < LEAST_RIDING ? null : known[known.length >> 1]!;
}

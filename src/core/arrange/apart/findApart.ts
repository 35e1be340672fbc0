/**
 * Frames of the paddock, portraits, the podium and the briefing: guessed from lens, shutter, flash, body, who is in them,
 * and whether anybody was riding then. Prices in nats, by reasoning, without a source; only what {@link isSure} is kept apart,
 * since a frame of the track kept apart is missing from a rider's set. The rest is for a person to say.
 */
import type { ApartKind } from '../../log/apartSaid.js';
import type { Apart } from '../types.js';
import { focalOf, type Riding, ridingOf, WIDE } from './riding.js';
import { seenIn } from './seen.js';
import type { ApartOrNot, Clue, FrameThen, Seen } from './types.js';

/** Below this a frame stays where it is. */
const APART_FROM = 0.9;
/** Below this it is likelier of the track, and nobody is asked. */
const PERHAPS_FROM = 0.5;
/** Of a day's frames hardly one in fifty. */
const PRIOR_NATS = -4;
/** Of the usual focal length: a wider view than is common at the track, though not {@link WIDE}. */
const WIDER = 0.55;
/** At the track slower shutters are panned with a rider. */
const SLOW_S = 1 / 200;
/** A briefing is more people than a podium holds. */
const CROWD = 5;
/** Frames of one body no further apart, with no rider between, were taken on one walk. */
export const ONE_WALK_MS = 120_000;
const ON_ONE_WALK_NATS = { oneSide: 1.2, bothSides: 2.5 };

export const isSure = ({ source }: Apart): boolean => source.kind !== 'guessed' || source.confidence >= APART_FROM;

/**
 * What is likelier apart than not.
 *
 * @param frames in the order of the day
 */
export function findApart(frames: readonly FrameThen[]): readonly ApartOrNot[] {
  const seen = frames.map(({ measured }) => seenIn(measured));
  const riding = ridingOf(frames, seen);
  const clues = frames.map((frame, i) => cluesOf(frame, seen[i]!, riding));
  const alone = clues.map(chanceOf);
  return frames.map((frame, i) => {
    const isOpen = clues[i]!.length > 0 && alone[i]! < APART_FROM;
    const all = [...clues[i]!, ...(isOpen ? onOneWalk(i, frames, alone) : [])];
    const confidence = chanceOf(all);
    if (confidence < PERHAPS_FROM) return null;
    return apartOf(kindOf(frame, seen[i]!, frames, seen), confidence, all);
  });
}

function apartOf(is: ApartKind, confidence: number, clues: readonly Clue[]): Apart {
  const speaking = clues.filter(({ nats }) => nats > 0).sort((a, b) => b.nats - a.nats);
  return { is, source: { kind: 'guessed', confidence, reasons: speaking.flatMap(({ words }) => words ?? []) } };
}

function chanceOf(clues: readonly Clue[]): number {
  if (clues.length === 0) return 0;
  return 1 / (1 + Math.exp(-clues.reduce((sum, { nats }) => sum + nats, PRIOR_NATS)));
}

/** None: what is not measured, has no time or is a divider is never guessed to be apart. */
function cluesOf(frame: FrameThen, seen: Seen, riding: Riding): readonly Clue[] {
  if (frame.measured === null || frame.wall === null || frame.role === 'divider') return [];
  return [...whoIsIn(seen, riding), ...howTaken(frame, seen, riding), ...when(frame, seen, riding)];
}

function whoIsIn({ people, isNear, bikes, isRidden, isRow, isLeft }: Seen, riding: Riding): readonly Clue[] {
  if (isRidden) return [{ nats: -2 }];
  if (isRow) return [{ nats: 3, words: `${bikes} bikes stand side by side, nobody on them` }];
  if (bikes > 0 && people > 0) return isNear ? [{ nats: 2, words: 'somebody stands by a bike' }] : [];
  if (bikes > 0) return isLeft && riding.tellsRiders ? [{ nats: 1.2, words: 'a bike, nobody on it' }] : [];
  if (people === 0) return [{ nats: -0.5 }];
  const many = people >= 3 ? 1 : 0;
  if (isNear) return [{ nats: 2.5 + many, words: people === 1 ? 'a person, no bike' : `${people} people, no bike` }];
  return [{ nats: 1 + many, words: 'people far off, no bike' }];
}

function howTaken(frame: FrameThen, seen: Seen, { usualMm, idleBodies }: Riding): readonly Clue[] {
  const { shutterS, flash } = frame.metadata.exposure;
  const isSlow = shutterS !== undefined && shutterS > SLOW_S && !seen.isRidden;
  return [
    ...lensClue(focalOf(frame), usualMm),
    ...(isSlow ? [{ nats: 1, words: 'a slow shutter, nobody riding' }] : []),
    ...(flash === 'fired' ? [{ nats: 3, words: 'flash' }] : []),
    ...(idleBodies.has(frame.body) ? [{ nats: 2, words: 'a body that took no rider all day' }] : []),
  ];
}

function lensClue(focal: number | null, usual: number | null): readonly Clue[] {
  if (focal === null || usual === null) return [];
  const words = `${Math.round(focal)} mm, where riders were taken at ${Math.round(usual)}`;
  if (focal <= WIDE * usual) return [{ nats: 2.5, words }];
  return focal <= WIDER * usual ? [{ nats: 1.2, words }] : [{ nats: -1 }];
}

function when(frame: FrameThen, seen: Seen, riding: Riding): readonly Clue[] {
  if (riding.isQuiet(frame)) return [{ nats: 2, words: 'nobody was riding then' }];
  return [{ nats: riding.isBetweenRiders(frame) && !seen.isRow ? -4 : -1 }];
}

/** Just before or behind it, or both, the same body took frames that are apart. */
function onOneWalk(i: number, frames: readonly FrameThen[], alone: readonly number[]): readonly Clue[] {
  const isApart = (step: number): boolean => {
    const at = neighbourOf(i, step, frames);
    return at !== null && alone[at]! >= APART_FROM;
  };
  const [before, after] = [isApart(-1), isApart(1)];
  if (!before && !after) return [];
  const nats = before && after ? ON_ONE_WALK_NATS.bothSides : ON_ONE_WALK_NATS.oneSide;
  return [{ nats, words: 'taken among frames that are apart' }];
}

/** The body's next frame of that side, when it is near. */
function neighbourOf(i: number, step: number, frames: readonly FrameThen[]): number | null {
  const { body, wall } = frames[i]!;
  for (let at = i + step; at >= 0 && at < frames.length; at += step) {
    const other = frames[at]!;
    if (other.wall === null || other.body !== body) continue;
    return wall !== null && Math.abs(other.wall - wall) <= ONE_WALK_MS ? at : null;
  }
  return null;
}

/** A crowd before anybody rode is the briefing, a few people after everybody did the podium; a name is for a person to give. */
function kindOf(
  { wall }: FrameThen,
  { people, bikes }: Seen,
  frames: readonly FrameThen[],
  seen: readonly Seen[],
): ApartKind {
  const ridden = frames.flatMap((frame, i) => (seen[i]!.isRidden ? (frame.wall ?? []) : []));
  const [isBefore, isAfter] = [ridden.every((at) => at > wall!), ridden.every((at) => at < wall!)];
  if (people >= CROWD && isBefore) return 'briefing';
  if (people >= 2 && bikes === 0 && isAfter && ridden.length > 0) return 'podium';
  return people > 0 && people <= 2 && bikes <= 1 ? 'portrait' : 'paddock';
}

/** Body clocks as said by a person or guessed from the evidence, applied to recorded times. */
import type { BodyKey, FrameId } from '../ids.js';
import type { Decision } from '../log/types.js';
import { millisecondsOf, type WallMs, wallMsOf } from '../units.js';
import type { RawExposure } from './exposures.js';
import { shootingOrder } from './shootingOrder.js';
import type { BodyClock } from './types.js';

export type ClockDecision = Extract<Decision, { kind: 'body-clock' }>;

/** An offset found from the evidence. */
export interface ClockGuess {
  readonly offsetMs: number;
  readonly confidence: number;
  readonly reasons: readonly string[];
  /** Sure enough to be used before anybody confirmed it. */
  readonly isApplied: boolean;
  /** Of the body's frames, in the order they were taken; absent: all of them. */
  readonly stretch?: ClockStretch & { readonly frames: number };
}

/** Both ends in; a missing end means all the way. */
export interface ClockStretch {
  readonly fromFrame?: FrameId;
  readonly toFrame?: FrameId;
}

export interface CorrectedTimes {
  /** Per exposure; null where no time was recorded. */
  readonly walls: readonly (WallMs | null)[];
  readonly clocks: readonly BodyClock[];
}

export function correctTimes(
  exposures: readonly RawExposure[],
  said: readonly ClockDecision[],
  guesses: ReadonlyMap<BodyKey, ClockGuess>,
): CorrectedTimes {
  const walls: (WallMs | null)[] = new Array(exposures.length).fill(null);
  const bodies = bodiesOf(exposures);
  const clocks = [...bodies.keys()].sort().map((body) => {
    const indices = bodies.get(body)!;
    const order = shootingOrder(indices.map((i) => exposures[i]!)).map((k) => indices[k]!);
    const own = said.filter((decision) => decision.body === body);
    return correctBody(body, order, exposures, own, guesses.get(body), walls);
  });
  return { walls, clocks };
}

function correctBody(
  body: BodyKey,
  order: readonly number[],
  exposures: readonly RawExposure[],
  said: readonly ClockDecision[],
  guess: ClockGuess | undefined,
  walls: (WallMs | null)[],
): BodyClock {
  const guessed = guess?.isApplied === true ? guess.offsetMs : 0;
  for (const i of order) {
    const { recorded } = exposures[i]!;
    if (typeof recorded === 'number') walls[i] = wallMsOf(recorded + guessed);
  }
  let newest = guessed;
  for (const decision of said) newest = applyDecision(decision, order, exposures, walls) ?? newest;
  if (said.length > 0 && guess?.stretch === undefined)
    return { body, offsetMs: millisecondsOf(newest), source: { kind: 'said' } };
  if (guess === undefined) return { body, offsetMs: millisecondsOf(0), source: { kind: 'measured' } };
  return {
    body,
    offsetMs: millisecondsOf(guessed),
    source: { kind: 'guessed', confidence: guess.confidence, reasons: guess.reasons },
    proposedOffsetMs: millisecondsOf(guess.offsetMs),
    ...(guess.stretch === undefined ? {} : { proposedFor: guess.stretch }),
  };
}

/**
 * A person's word holds from one frame to another, both included, in the order they were taken; a missing end means
 * all the way. Drift counts from the first frame of the stretch: 10 ppm adds 36 ms an hour.
 */
function applyDecision(
  decision: ClockDecision,
  order: readonly number[],
  exposures: readonly RawExposure[],
  walls: (WallMs | null)[],
): number | null {
  const [from, to] = placesOf(decision, order, exposures);
  const stretch = order.slice(from, to + 1);
  const first = stretch.map((i) => exposures[i]!.recorded).find((time) => typeof time === 'number');
  if (first === undefined) return null;
  let last = decision.offsetMs as number;
  for (const i of stretch) {
    const { recorded } = exposures[i]!;
    if (typeof recorded !== 'number') continue;
    last = decision.offsetMs + ((decision.driftPpm ?? 0) * (recorded - first)) / 1e6;
    walls[i] = wallMsOf(Math.round(recorded + last));
  }
  return Math.round(last);
}

/** First and last place, in the order they were taken, of what a word or guess is about. */
export function placesOf(
  { fromFrame, toFrame }: ClockStretch,
  order: readonly number[],
  exposures: readonly RawExposure[],
): readonly [from: number, to: number] {
  const placeOf = (frame: string | undefined, otherwise: number): number => {
    if (frame === undefined) return otherwise;
    const at = order.findIndex((i) => exposures[i]!.frameId === frame);
    return at === -1 ? otherwise : at;
  };
  const from = placeOf(fromFrame, 0);
  const to = placeOf(toFrame, order.length - 1);
  return [Math.min(from, to), Math.max(from, to)];
}

export function bodiesOf(exposures: readonly RawExposure[]): ReadonlyMap<BodyKey, readonly number[]> {
  const bodies = new Map<BodyKey, number[]>();
  exposures.forEach((exposure, i) => {
    const list = bodies.get(exposure.body);
    if (list === undefined) bodies.set(exposure.body, [i]);
    else list.push(i);
  });
  return bodies;
}

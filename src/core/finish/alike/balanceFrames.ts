/**
 * What each frame needs for the ground to be as bright and as grey as in the others, and each rider as bright and as tinted as in their
 * other frames: gains of the sensor's light (von Kries). Light is told twice, by ground and by rider: a cloud that takes the sun off the
 * tarmac takes less off a side that the sky lights. So the rider is believed first for brightness, both alike for tint. A rider's own
 * light is the middle of their frames' once the ground is levelled: a black bike is not made grey, nor a red one less red.
 *
 * Within a spot all ground is the same, so a difference is the light's or the camera's and goes. Between spots, and from grey, it may be
 * the tarmac's own: new asphalt reflects 5–10 %, weathered 10–15 % ("Albedo: a measure of pavement surface reflectance", R&T Update
 * 3.05, 2002), over a stop apart in one light, and a wet one shows the sky. That is only half believed, and not far: believed whole it
 * makes bikes dark on bleached tarmac and white leathers yellow beside a wet one.
 */
import type { FrameId, RiderKey } from '../../ids.js';
import type { LightStops } from '../../measure/types.js';
import type { FrameBalance, FrameLight } from './types.js';

/** More is a picture that went wrong, or a ground that is none. */
const MOST_STOPS = 1.6;
const MOST_TINT = 0.6;
/** Ground alone, with no rider known to bear it out, changes a frame by no more: our choice, no source. */
const MOST_BY_GROUND: LightStops = { stops: 1, red: 0.3, blue: 0.3 };
/** How far a spot's ground is believed to be other light rather than other ground, and the most that is made of it: our choice, no source. */
const SPOTS_SHARE = 0.5;
const MOST_BETWEEN_SPOTS: LightStops = { stops: 0.5, red: 0.2, blue: 0.2 };
/** Of a rider seen in fewer frames nothing is known. */
const LEAST_FRAMES = 3;
/** How far the rider is believed where both speak; chosen on renders of other seeds than those reported. */
const RIDERS_STOPS = 0.85;
const RIDERS_TINT = 0.5;
/** Frames that show no ground take what frames within this time of them needed. */
const NEAR_MS = 4 * 60_000;

/** The middle of all frames' brightness, and grey. Null where no frame shows ground. */
export function aimOf(frames: readonly FrameLight[]): LightStops | null {
  const grounds = frames.flatMap(({ ground }) => (ground ? [ground.stops] : []));
  return grounds.length === 0 ? null : { stops: middleOf(grounds), red: 0, blue: 0 };
}

/** @param aim where a person, or the middle of all, wants the ground */
export function balanceFrames(frames: readonly FrameLight[], aim: LightStops): ReadonlyMap<FrameId, FrameBalance> {
  const aims = aimsOfSpots(frames, aim);
  const aimFor = ({ spot }: FrameLight): LightStops => aims.get(spot) ?? aim;
  const ownLights = lightsOfRiders(frames, aimFor);
  const own = new Map(
    frames.flatMap((frame): [FrameId, FrameBalance][] => {
      const needs = needsOf(frame, aimFor(frame), ownLights);
      return needs === null ? [] : [[frame.frame, balanceOf(needs, 'own')]];
    }),
  );
  const byPlace = new Map<string, FrameLight[]>();
  for (const frame of frames) if (own.has(frame.frame)) pushTo(byPlace, frame.place, frame);
  return new Map(
    frames.map((frame) => [
      frame.frame,
      own.get(frame.frame) ?? borrowed(frame.wall, byPlace.get(frame.place) ?? [], own),
    ]),
  );
}

const KINDS = ['stops', 'red', 'blue'] as const;
const ofEach = (make: (kind: (typeof KINDS)[number]) => number): LightStops => ({
  stops: make('stops'),
  red: make('red'),
  blue: make('blue'),
});
const from = (one: LightStops, other: LightStops): LightStops => ofEach((kind) => other[kind] - one[kind]);
const middleOfAll = (all: readonly LightStops[]): LightStops => ofEach((kind) => middleOf(all.map((one) => one[kind])));

const keyOf = ({ place }: FrameLight, rider: RiderKey): string => `${place}\n${rider}`;

/** Where each spot's ground is brought: nearer to all others' than it was. */
function aimsOfSpots(frames: readonly FrameLight[], aim: LightStops): ReadonlyMap<string, LightStops> {
  const grounds = new Map<string, LightStops[]>();
  for (const { spot, ground } of frames) if (ground) pushTo(grounds, spot, ground);
  return new Map(
    [...grounds].map(([spot, all]) => {
      const middle = middleOfAll(all);
      const moved = from(middle, aim);
      return [spot, ofEach((kind) => middle[kind] + within(SPOTS_SHARE * moved[kind], MOST_BETWEEN_SPOTS[kind]))];
    }),
  );
}

/** By place and rider: their light where the ground is as it should be. */
function lightsOfRiders(
  frames: readonly FrameLight[],
  aimFor: (frame: FrameLight) => LightStops,
): ReadonlyMap<string, LightStops> {
  const all = new Map<string, LightStops[]>();
  for (const frame of frames) {
    if (frame.ground === null) continue;
    const needs = from(frame.ground, aimFor(frame));
    for (const { rider, light } of frame.riders) {
      const key = keyOf(frame, rider);
      pushTo(
        all,
        key,
        ofEach((kind) => light[kind] + needs[kind]),
      );
    }
  }
  const known = [...all].filter(([, lights]) => lights.length >= LEAST_FRAMES);
  return new Map(known.map(([key, lights]) => [key, middleOfAll(lights)]));
}

function needsOf(frame: FrameLight, aim: LightStops, ownLights: ReadonlyMap<string, LightStops>): LightStops | null {
  const byRiders = frame.riders.flatMap(({ rider, light }) => {
    const own = ownLights.get(keyOf(frame, rider));
    return own === undefined ? [] : [from(light, own)];
  });
  const byGround = frame.ground && from(frame.ground, aim);
  if (byRiders.length === 0) return byGround && ofEach((kind) => within(byGround[kind], MOST_BY_GROUND[kind]));
  const riders = ofEach((kind) => byRiders.reduce((sum, one) => sum + one[kind], 0) / byRiders.length);
  if (byGround === null) return riders;
  return ofEach((kind) => {
    const share = kind === 'stops' ? RIDERS_STOPS : RIDERS_TINT;
    return share * riders[kind] + (1 - share) * byGround[kind];
  });
}

function balanceOf(wanted: LightStops, source: FrameBalance['from']): FrameBalance {
  const needs = ofEach((kind) => within(wanted[kind], kind === 'stops' ? MOST_STOPS : MOST_TINT));
  const [red, blue] = [2 ** needs.red, 2 ** needs.blue];
  // A grey gets no brighter or darker by its tint being taken away.
  const scale = 2 ** needs.stops / (0.2126 * red + 0.7152 + 0.0722 * blue);
  return { from: source, needs, gains: [red * scale, scale, blue * scale] };
}

function borrowed(
  wall: FrameLight['wall'],
  ofPlace: readonly FrameLight[],
  own: ReadonlyMap<FrameId, FrameBalance>,
): FrameBalance {
  const near = ofPlace.flatMap((other): readonly LightStops[] =>
    wall !== null && other.wall !== null && Math.abs(other.wall - wall) <= NEAR_MS ? [own.get(other.frame)!.needs] : [],
  );
  if (near.length === 0) return balanceOf({ stops: 0, red: 0, blue: 0 }, 'nothing');
  return balanceOf(middleOfAll(near), 'neighbours');
}

function pushTo<Value>(lists: Map<string, Value[]>, key: string, value: Value): void {
  const list = lists.get(key);
  if (list) list.push(value);
  else lists.set(key, [value]);
}

const within = (value: number, most: number): number => Math.min(most, Math.max(-most, value));

function middleOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

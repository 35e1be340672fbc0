/** From an exposure to a shot: where the camera stands, how the bike leans there, what light falls at that hour. */
import type { BikeInShot, Shot } from '../render/frame.js';
import { dividerShot, lightAt, poseInTurn, STEADY } from '../render/framing.js';
import type { Light, Sky } from '../render/light.js';
import { clamp, cos, PI } from '../render/maths.js';
import { type Random, randomFrom } from '../render/noise.js';
import type { PoseName } from '../render/rider.js';
import { KERBS, type Scene } from '../render/scene.js';
import type { FieldRider } from './field.js';
import { DATE, type GroupKey, type SpotName } from './meeting.js';
import type { Exposure } from './photograph.js';

export const FRAME_PX = { long: 600, short: 400 } as const;

interface Spot {
  readonly scene: Scene;
  /** Compass direction of travel, degrees. */
  readonly headingDeg: number;
  /** Where a burst may be centred, degrees from the direction of travel. */
  readonly azimuthsDeg: readonly (readonly [number, number])[];
  readonly elevationDeg: readonly [number, number];
  readonly distanceM: readonly [number, number];
  readonly fill: readonly [number, number];
  readonly leanDeg: Readonly<Record<GroupKey, readonly [number, number]>>;
  /** Metres a second. */
  readonly speed: Readonly<Record<GroupKey, number>>;
  /** One over seconds. */
  readonly shutters: readonly number[];
}

const SPOTS: Readonly<Record<SpotName, Spot>> = {
  beacon: {
    headingDeg: 118,
    azimuthsDeg: [[34, 66]],
    elevationDeg: [2.4, 4.6],
    distanceM: [21, 27],
    fill: [0.5, 0.62],
    leanDeg: { N: [25, 33], I: [36, 43], F: [44, 50] },
    speed: { N: 15, I: 18, F: 21 },
    shutters: [320, 400, 500, 640],
    scene: {
      radius: 28,
      seed: 3,
      dryness: 0.28,
      left: {
        edge: 9.5,
        kerb: 1,
        kerbColours: KERBS.redWhite,
        verges: [
          ['grass', 15],
          ['gravel', 29],
          ['grass', 200],
        ],
        walls: [
          { kind: 'tyres', q: 30, bottom: 0, top: 1.15 },
          { kind: 'fence', q: 32, bottom: 0, top: 3.2 },
          { kind: 'dune', q: 50, bottom: 0, top: 7, seed: 4 },
          { kind: 'trees', q: 95, bottom: 0, top: 19, seed: 9 },
        ],
      },
      right: { edge: 1.2, kerb: 1.2, kerbColours: KERBS.redWhite, verges: [['grass', 60]], walls: [] },
    },
  },
  gannet: {
    headingDeg: 205,
    azimuthsDeg: [[-98, -70]],
    elevationDeg: [1.8, 3.4],
    distanceM: [29, 38],
    fill: [0.54, 0.68],
    leanDeg: { N: [-26, -18], I: [-37, -29], F: [-45, -37] },
    speed: { N: 25, I: 31, F: 37 },
    shutters: [200, 250, 320, 400],
    scene: {
      radius: -95,
      seed: 11,
      dryness: 0.5,
      left: { edge: 1.8, kerb: 1.3, kerbColours: KERBS.blueWhite, verges: [['grass', 99]], walls: [] },
      right: {
        edge: 10,
        kerb: 1.2,
        kerbColours: KERBS.blueWhite,
        verges: [
          ['runOff', 15],
          ['grass', 24],
          ['sand', 60],
          ['sea', 4000],
        ],
        walls: [
          { kind: 'rail', q: 26, bottom: 0, top: 0.85 },
          { kind: 'dune', q: 40, bottom: 0, top: 2.2, seed: 2 },
          { kind: 'huts', q: 58, bottom: 0, top: 3.8, seed: 5 },
        ],
      },
    },
  },
  slipway: {
    headingDeg: 152,
    azimuthsDeg: [
      [9, 30],
      [9, 30],
      [9, 30],
      [128, 148],
    ],
    elevationDeg: [1.4, 3],
    distanceM: [40, 56],
    fill: [0.56, 0.7],
    leanDeg: { N: [-3, 5], I: [-4, 8], F: [-4, 10] },
    speed: { N: 26, I: 32, F: 38 },
    shutters: [800, 1000, 1000, 1250],
    scene: {
      radius: 900,
      seed: 61,
      dryness: 0.35,
      left: {
        edge: 6.5,
        kerb: 0.9,
        kerbColours: KERBS.greenWhite,
        verges: [
          ['grass', 14],
          ['concrete', 30],
          ['grass', 300],
        ],
        walls: [
          { kind: 'boards', q: 15, bottom: 0, top: 1.15, seed: 8 },
          { kind: 'dune', q: 34, bottom: 0, top: 8, seed: 71 },
        ],
      },
      right: {
        edge: 4.5,
        kerb: 0.9,
        kerbColours: KERBS.greenWhite,
        verges: [
          ['grass', 20],
          ['sand', 300],
        ],
        walls: [
          { kind: 'rail', q: 18, bottom: 0, top: 0.9 },
          { kind: 'trees', q: 46, bottom: 0, top: 13, seed: 77 },
        ],
      },
    },
  },
};

const SKIES: Readonly<Record<string, Sky>> = {
  N1: { sunColour: [3.9, 3.25, 2.4], zenith: [0.27, 0.42, 0.78], horizon: [0.92, 0.9, 0.88], cloud: 0.2 },
  I1: { sunColour: [4, 3.5, 2.8], zenith: [0.25, 0.42, 0.84], horizon: [0.86, 0.92, 0.98], cloud: 0.45 },
  F1: { sunColour: [4, 3.7, 3.2], zenith: [0.23, 0.42, 0.88], horizon: [0.82, 0.92, 1.06], cloud: 0.5 },
  N2: { sunColour: [1.5, 1.45, 1.36], zenith: [0.95, 1.0, 1.08], horizon: [1.12, 1.15, 1.2], cloud: 0.9 },
  I2: { sunColour: [4, 3.55, 2.9], zenith: [0.24, 0.42, 0.84], horizon: [0.88, 0.93, 1.0], cloud: 0.6 },
};

const NOON_H = 12.9;

function lightFor(exposure: Exposure): Light {
  const hour = (exposure.wall - Date.parse(`${DATE}T00:00:00Z`)) / 3_600_000;
  return lightAt(SKIES[exposure.session.name]!, SPOTS[exposure.spot].headingDeg, hour - NOON_H);
}

function poseFor(leanDeg: number, spot: SpotName, isAway: boolean, random: Random): PoseName {
  if (spot === 'slipway') return isAway || random.isTrue(0.25) ? 'tucked' : 'upright';
  return poseInTurn(leanDeg);
}

export function shotOf(exposure: Exposure): Shot {
  if (exposure.role !== 'divider') return bikeShot(exposure);
  const { seed, spot } = exposure;
  const place = {
    width: FRAME_PX.long,
    height: FRAME_PX.short,
    scene: SPOTS[spot].scene,
    light: lightFor(exposure),
    seed,
  };
  // The sky on one call, the grass at the feet on the next.
  return dividerShot(place, seed % 4 < 2 ? 'sky' : 'grass', randomFrom(seed));
}

function bikeShot(exposure: Exposure): Shot {
  const spot = SPOTS[exposure.spot];
  // One burst shares its framing; only the bike's progress and the hand's unsteadiness change from frame to frame.
  const ofBurst = randomFrom(exposure.seed - exposure.inBurst + 7);
  const ofFrame = randomFrom(exposure.seed * 3 + 1);
  const group = exposure.session.group;
  const [low, high] = ofBurst.oneOf(spot.azimuthsDeg);
  const isAway = Math.abs(low) > 110;
  const distanceM = ofBurst.between(...spot.distanceM);
  const speed = spot.speed[group] * (exposure.isSlow ? 0.72 : 1) * ofBurst.between(0.95, 1.05);
  const leanDeg = ofBurst.between(...spot.leanDeg[group]) * (exposure.isSlow ? 0.55 : 1);
  const centreDeg = ofBurst.between(low, high);
  const fromMiddleS = (exposure.inBurst - (exposure.burst - 1) / 2) / exposure.body.framesPerSecond;
  const passedDeg = ((speed * fromMiddleS * Math.abs(sinDeg(centreDeg))) / distanceM) * (180 / PI);
  const azimuthDeg = clamp(centreDeg + Math.sign(centreDeg) * passedDeg, -118, 152);
  const fill = ofBurst.between(...spot.fill) * ofFrame.between(0.97, 1.03) * (exposure.isPortrait ? 0.78 : 1);
  const bikes = bikesOf(exposure, leanDeg, speed, isAway, ofBurst);
  const isPair = bikes.length > 1;
  const shutter = ofBurst.oneOf(spot.shutters);
  return {
    ...STEADY,
    width: exposure.isPortrait ? FRAME_PX.short : FRAME_PX.long,
    height: exposure.isPortrait ? FRAME_PX.long : FRAME_PX.short,
    scene: spot.scene,
    light: lightFor(exposure),
    azimuthDeg,
    elevationDeg: ofBurst.between(...spot.elevationDeg),
    distanceM,
    fill: fill * (isPair ? PAIR_FILL[exposure.spot] : 1),
    offX: isPair ? pairOffset(azimuthDeg) : ofBurst.between(-0.04, 0.04) + ofFrame.between(-0.02, 0.02),
    offY: ofBurst.between(0.01, 0.06) + ofFrame.between(-0.015, 0.015),
    rollDeg: ofBurst.between(-1.6, 1.6),
    speed,
    shutterS: 1 / shutter,
    fNumber: ofBurst.oneOf([5.6, 6.3, 7.1]),
    bikes,
    alongM: ofBurst.between(0, 300) + speed * fromMiddleS,
    seed: exposure.seed,
    exposureEv: ofBurst.between(-0.12, 0.12) + exposureFor(exposure),
    defocusPx: exposure.blur === 'defocus' ? ofFrame.between(2.6, 4.2) : 0,
    shakePx:
      exposure.blur === 'motion'
        ? [ofFrame.between(7, 13) * (ofFrame.isTrue(0.5) ? 1 : -1), ofFrame.between(-4, 4)]
        : [0, 0],
  };
}

const sinDeg = (deg: number): number => cos(((deg - 90) * PI) / 180);
/** How much farther out the photographer zooms for two: side by side in a pan, nearly in line from ahead. */
const PAIR_FILL: Readonly<Record<SpotName, number>> = { beacon: 0.68, gannet: 0.54, slipway: 1 };
/** The follower needs room behind the leader. */
const pairOffset = (azimuthDeg: number): number => 0.17 * sinDeg(azimuthDeg);
/** Overcast light is weaker, and the photographer opens up. */
const exposureFor = (exposure: Exposure): number => (exposure.session.name === 'N2' ? 0.35 : 0);

function bikesOf(exposure: Exposure, leanDeg: number, speed: number, isAway: boolean, random: Random): BikeInShot[] {
  return exposure.riders.map((rider: FieldRider, index): BikeInShot => {
    const own = leanDeg + (index > 0 ? random.between(-4, 3) * (leanDeg > 0 ? 1 : -1) : 0);
    const behind = index === 0 ? 0 : clamp(exposure.gapS * speed, 2.6, 3.2);
    return {
      shape: rider.shape,
      livery: rider.livery,
      leanDeg: own,
      pose: poseFor(own, exposure.spot, isAway, random),
      ahead: -behind,
      aside: index === 0 ? 0 : exposure.spot === 'slipway' ? -1.7 : random.between(-0.8, 0.4),
    };
  });
}

export const isoFor = (exposure: Exposure): number =>
  exposure.session.name === 'N2' ? 400 : exposure.spot === 'slipway' ? 320 : 160;

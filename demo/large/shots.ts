/** From what was photographed to a picture's scene: camera, lean, light of the hour, company. */
import type { BikeInShot, Shot } from '../render/frame.js';
import { dividerShot, lightAt, poseInTurn, STEADY } from '../render/framing.js';
import type { Light, Sky } from '../render/light.js';
import { mix, PI, sin } from '../render/maths.js';
import { type Random, randomFrom } from '../render/noise.js';
import type { PoseName } from '../render/rider.js';
import { DAY_START, type GroupOptions, type SimulatedSession, type SimulatedShot } from '../simulated-day/index.js';
import type { LargeRider } from './riders.js';
import { LARGE_SPOTS, type LargeSpot } from './spots.js';

const SIZE_PX = { width: 600, height: 400 } as const;

export interface LargeDay {
  readonly seed: number;
  readonly groups: readonly GroupOptions[];
  readonly sessions: readonly SimulatedSession[];
  readonly riders: readonly LargeRider[];
}

const SKIES: readonly Sky[] = [
  { sunColour: [3.9, 3.3, 2.5], zenith: [0.27, 0.42, 0.78], horizon: [0.92, 0.9, 0.88], cloud: 0.2 },
  { sunColour: [4, 3.6, 3.1], zenith: [0.24, 0.42, 0.86], horizon: [0.84, 0.92, 1.02], cloud: 0.5 },
  { sunColour: [1.5, 1.45, 1.36], zenith: [0.95, 1.0, 1.08], horizon: [1.12, 1.15, 1.2], cloud: 0.9 },
  { sunColour: [4, 3.5, 2.8], zenith: [0.25, 0.42, 0.84], horizon: [0.86, 0.92, 0.98], cloud: 0.45 },
];
const OVERCAST = 2;

/** @param at place in the day's list, which the picture's own chances hang on. */
export function largeShot(day: LargeDay, shot: SimulatedShot, at: number): Shot {
  const spot = LARGE_SPOTS[shot.spot]!;
  const ofFrame = randomFrom(day.seed * 100_003 + at);
  // One burst shares its framing: its pass is the same in all of its frames.
  const ofBurst = randomFrom(day.seed * 9176 + burstSeed(shot));
  const sky = skyOf(day, shot);
  const light = lightAt(sky, spot.headingDeg, (shot.wall - DAY_START) / 3_600_000 - START_BEFORE_NOON_H);
  return shot.bikes.length === 0
    ? dividerShot({ ...SIZE_PX, scene: spot.scene, light, seed: at }, 'sky', ofFrame)
    : bikeShot(day, shot, spot, light, ofBurst, at);
}

const burstSeed = ({ session, bikes, spot }: SimulatedShot): number =>
  [...(bikes[0]?.pass ?? '')].reduce((sum, c) => (sum * 31 + c.charCodeAt(0)) % 1_000_003, session * 17 + spot);

function skyOf(day: LargeDay, { session }: SimulatedShot): Sky {
  const random = randomFrom(day.seed * 53 + Math.max(0, session));
  return SKIES[random.isTrue(0.25) ? OVERCAST : random.oneOf([0, 1, 3])]!;
}

const START_BEFORE_NOON_H = 3.9;

/** Two in one picture: how much further out the photographer zooms. */
const PAIR_FILL = 0.62;

function bikeShot(day: LargeDay, shot: SimulatedShot, spot: LargeSpot, light: Light, random: Random, at: number): Shot {
  const ofFrame = randomFrom(day.seed * 100_003 + at);
  const pace = paceShare(day, shot);
  const leanDeg = mix(...spot.leanDeg, pace) + random.between(-3, 3);
  const speed = mix(...spot.speed, pace) * random.between(0.95, 1.05);
  const azimuthDeg = random.between(...spot.azimuthDeg) + ofFrame.between(-3, 3);
  const isPair = shot.bikes.length > 1;
  const blur = ofFrame();
  return {
    ...SIZE_PX,
    ...STEADY,
    scene: spot.scene,
    light,
    azimuthDeg,
    elevationDeg: random.between(...spot.elevationDeg),
    distanceM: random.between(...spot.distanceM),
    fill: random.between(...spot.fill) * ofFrame.between(0.97, 1.03) * (isPair ? PAIR_FILL : 1),
    offX: (isPair ? 0.12 * sin((azimuthDeg * PI) / 180) : 0) + ofFrame.between(-0.05, 0.05),
    offY: random.between(0.01, 0.06) + ofFrame.between(-0.015, 0.015),
    rollDeg: random.between(-1.6, 1.6),
    speed,
    shutterS: 1 / random.oneOf(spot.shutters),
    fNumber: random.oneOf([5.6, 6.3, 7.1]),
    bikes: bikesOf(day, shot, spot, leanDeg, random),
    alongM: random.between(0, 300),
    seed: day.seed * 1000 + at,
    exposureEv: random.between(-0.12, 0.12) + (light.cloud > 0.8 ? 0.35 : 0),
    defocusPx: blur < 0.04 ? ofFrame.between(2, 3.6) : 0,
    shakePx: blur > 0.95 ? [ofFrame.between(6, 11), ofFrame.between(-4, 4)] : [0, 0],
  };
}

/** 0 for the slowest group, 1 for the fastest. */
function paceShare({ groups, sessions }: LargeDay, { session }: SimulatedShot): number {
  const paces = groups.map(({ pace }) => pace);
  const [quickest, slowest] = [Math.min(...paces), Math.max(...paces)];
  const own = groups.find(({ key }) => key === sessions[session]?.group)?.pace ?? slowest;
  return (slowest - own) / Math.max(1e-9, slowest - quickest);
}

/** Left edges say who is ahead: the simulated photographer puts who went by before to the right. */
const AHEAD_FROM = 0.5;

function bikesOf(
  { riders, sessions }: LargeDay,
  shot: SimulatedShot,
  spot: LargeSpot,
  leanDeg: number,
  random: Random,
): readonly BikeInShot[] {
  const half = sessions[shot.session]?.isAfternoon === true ? 1 : 0;
  return shot.bikes.map(({ rider, left }, index): BikeInShot => {
    const { shape, liveries } = riders[rider]!;
    const own = leanDeg + (index > 0 ? random.between(-4, 4) : 0);
    const gap = random.between(2.6, 3.2);
    return {
      shape,
      livery: liveries[half],
      leanDeg: own,
      pose: poseFor(own, spot, random),
      ahead: index === 0 ? 0 : left > AHEAD_FROM ? gap : -gap,
      aside: index === 0 ? 0 : random.between(-1.2, 0.8),
    };
  });
}

function poseFor(leanDeg: number, spot: LargeSpot, random: Random): PoseName {
  if (Math.abs(spot.leanDeg[1]) < 15) return random.isTrue(0.4) ? 'tucked' : 'upright';
  return poseInTurn(leanDeg);
}

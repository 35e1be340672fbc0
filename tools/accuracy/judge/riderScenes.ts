/**
 * Single bikes whose riders sit and look in known ways: knee and elbow held in or stuck out, the head turned or not, from every
 * side. The truth is what the renderer was asked for, and `truthOf` says what of it a picture shows.
 */
import { largeMeeting } from '../../../demo/large/day.js';
import { LARGE_SPOTS } from '../../../demo/large/spots.js';
import type { Shot } from '../../../demo/render/frame.js';
import { lightAt, STEADY } from '../../../demo/render/framing.js';
import { type Random, randomFrom } from '../../../demo/render/noise.js';
import { helmetFrame, type Pose } from '../../../demo/render/rider.js';

interface SceneSet {
  readonly seed: number;
  readonly scenes: number;
  /** Each way of sitting is a model of its own, which takes seconds to build. */
  readonly poses: number;
}

/** Whoever tunes the judge uses the first; figures are of the second alone. */
export const RIDER_SETS = {
  tuning: [
    { seed: 511, scenes: 110, poses: 22 },
    { seed: 531, scenes: 110, poses: 22 },
  ],
  reported: [{ seed: 557, scenes: 80, poses: 16 }],
} as const satisfies Record<string, readonly SceneSet[]>;
const SIZE_PX = { width: 600, height: 400 } as const;

export interface RiderScene {
  readonly shot: Shot;
  readonly pose: Pose;
}

export const riderScenes = (of: keyof typeof RIDER_SETS): readonly RiderScene[] => RIDER_SETS[of].flatMap(scenesOf);

function scenesOf({ seed, scenes, poses: ways }: SceneSet): readonly RiderScene[] {
  const random = randomFrom(seed * 193 + 7);
  const { riders } = largeMeeting(seed);
  const poses = Array.from({ length: ways }, (_, index) => poseIn(random, index));
  return Array.from({ length: scenes }, (_, index): RiderScene => {
    const pose = poses[index % ways]!;
    const { shape, liveries } = riders[random.whole(0, riders.length - 1)]!;
    const spot = random.oneOf(LARGE_SPOTS);
    const leanDeg =
      pose.hang === 0
        ? random.between(-6, 6)
        : Math.sign(pose.hang) * random.between(22, Math.abs(pose.hang) < 1 ? 42 : 52);
    const bike = { shape, pose, livery: liveries[0], ahead: 0, aside: 0, leanDeg };
    const shot: Shot = {
      ...SIZE_PX,
      ...STEADY,
      scene: spot.scene,
      light: lightAt(SKY, spot.headingDeg, random.between(-4, 4)),
      azimuthDeg: azimuthIn(random),
      elevationDeg: random.between(1.5, 5),
      distanceM: random.between(18, 34),
      fill: random.between(0.6, 0.8),
      offX: random.between(-0.05, 0.05),
      offY: random.between(0.01, 0.05),
      speed: random.between(18, 30),
      shutterS: 1 / random.oneOf([500, 640, 800]),
      fNumber: 5.6,
      bikes: [bike],
      alongM: random.between(0, 300),
      seed: seed * 1000 + index,
    };
    return { shot, pose };
  });
}

const SKY = { sunColour: [4, 3.5, 2.8], zenith: [0.25, 0.42, 0.84], horizon: [0.86, 0.92, 0.98], cloud: 0.45 } as const;

/** Half come, a quarter goes, the rest is seen from its side. */
function azimuthIn(random: Random): number {
  const side = random.isTrue(0.5) ? 1 : -1;
  const share = random();
  if (share < 0.5) return side * random.between(2, 50);
  return side * (share < 0.75 ? random.between(138, 178) : random.between(50, 138));
}

/** A rider in a turn hangs off half or fully; knee, elbow and head go their own ways. */
function poseIn(random: Random, index: number): Pose {
  const off = [0, 0.5, 1, 0.5, 1][index % 5]!;
  const hang = off * (random.isTrue(0.5) ? 1 : -1);
  const turnDeg = random.oneOf([-70, -40, -15, 0, 0, 15, 40, 70]);
  return {
    hang,
    tuck: random.between(0.3, 0.9),
    headTilt: -0.42 * hang,
    look: Math.tan((turnDeg * Math.PI) / 180),
    kneeOut: random.oneOf([0, 0.15, 0.85, 1]),
    elbowOut: random.oneOf([0, 0.1, 0.9, 1]),
  };
}

export interface RiderTruth {
  /** Knee or elbow; in where both are. Null: nobody in a turn. */
  readonly limb: 'out' | 'in' | null;
  /** Null: half turned. */
  readonly head: 'towards' | 'away' | null;
}

const OUT_FROM = 0.8;
/** Between the way the face looks and the way to the camera. */
const TOWARDS_DEG = 40;
const AWAY_DEG = 60;

export function truthOf({ shot, pose }: RiderScene): RiderTruth {
  const { hang, kneeOut = 0, elbowOut = 0 } = pose;
  const offDeg = faceToCameraDeg({ shot, pose });
  return {
    limb: hang === 0 ? null : Math.max(kneeOut, elbowOut) >= OUT_FROM ? 'out' : 'in',
    head: offDeg <= TOWARDS_DEG ? 'towards' : offDeg >= AWAY_DEG ? 'away' : null,
  };
}

function faceToCameraDeg({ shot, pose }: RiderScene): number {
  const radians = (deg: number): number => (deg * Math.PI) / 180;
  const [x, y, z] = helmetFrame(pose).x;
  const lean = radians(shot.bikes[0]!.leanDeg);
  const [azimuth, elevation] = [radians(shot.azimuthDeg), radians(shot.elevationDeg)];
  const face = [x, y * Math.cos(lean) - z * Math.sin(lean), y * Math.sin(lean) + z * Math.cos(lean)] as const;
  const camera = [
    Math.cos(azimuth) * Math.cos(elevation),
    Math.sin(elevation),
    Math.sin(azimuth) * Math.cos(elevation),
  ] as const;
  const along = face[0] * camera[0] + face[1] * camera[1] + face[2] * camera[2];
  return (Math.acos(Math.min(1, Math.max(-1, along))) * 180) / Math.PI;
}

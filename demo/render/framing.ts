/** What the invented meetings photograph alike: a steady camera, the hour's light, how a rider sits, a divider. */
import type { Shot } from './frame.js';
import { type Light, lightOf, type Sky } from './light.js';
import { cos, PI } from './maths.js';
import type { Random } from './noise.js';
import type { PoseName } from './rider.js';
import type { Scene } from './scene.js';

export const STEADY = { rollDeg: 0, defocusPx: 0, shakePx: [0, 0], exposureEv: 0 } as const;

/** A rough sun for 55° north in September; good enough to paint by. */
export function lightAt(sky: Sky, headingDeg: number, hoursFromNoon: number): Light {
  return lightOf(sky, 180 + hoursFromNoon * 16.5 - headingDeg, 36 * cos((hoursFromNoon * PI) / 11.5));
}

const HANGING_OFF_DEG = 35;

export function poseInTurn(leanDeg: number): PoseName {
  const isFull = Math.abs(leanDeg) > HANGING_OFF_DEG;
  return leanDeg > 0 ? (isFull ? 'rightFull' : 'rightHalf') : isFull ? 'leftFull' : 'leftHalf';
}

export interface DividerPlace {
  readonly width: number;
  readonly height: number;
  readonly scene: Scene;
  readonly light: Light;
  readonly seed: number;
}

/** A frame between sessions: the sky, or the grass at the feet. */
export function dividerShot(place: DividerPlace, of: 'sky' | 'grass', random: Random): Shot {
  const isSky = of === 'sky';
  return {
    ...STEADY,
    ...place,
    scene: { ...place.scene, left: { ...place.scene.left, walls: [] } },
    azimuthDeg: 40,
    elevationDeg: 4,
    distanceM: isSky ? 3 : 14,
    fill: isSky ? 0.9 : 5,
    offX: 0,
    offY: 0,
    speed: 0,
    shutterS: 1 / 250,
    fNumber: 8,
    bikes: [],
    alongM: random.between(0, 400),
    aim: isSky ? [-30, 24 + random.between(0, 6), random.between(-20, 20)] : [3, -0.6, 6.5],
    shakePx: [random.between(3, 9), random.between(2, 7)],
    exposureEv: isSky ? 0 : 0.2,
  };
}

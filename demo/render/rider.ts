/** The rider: a posed skeleton, clothed in leathers, gloves, boots and a helmet. */
import {
  blended,
  blendMax,
  blendMin,
  capsule,
  type Distance,
  ellipsoid,
  type Frame,
  frameAlong,
  roundedBox,
  sphere,
  within,
} from './distance.js';
import {
  add,
  between,
  clamp,
  cos,
  cross,
  dot,
  hypot,
  length,
  mix,
  scale,
  sin,
  smooth,
  subtract,
  unit,
  type Vector,
} from './maths.js';
import { addSurface, type Mesh } from './mesh.js';
import { GROUP, PART, type Part } from './parts.js';

export interface Pose {
  /** −1 hangs fully off to the left, 1 to the right. */
  readonly hang: number;
  /** 0 sits up, 1 lies behind the screen. */
  readonly tuck: number;
  /** Tilt of the head, in the helmet's up vector. */
  readonly headTilt: number;
  /** Where the face turns: sideways part of its direction. */
  readonly look: number;
  /** Knee and elbow on the side hung off to, 0 held in, 1 stuck out; not given, as far as the rider hangs off. */
  readonly kneeOut?: number;
  readonly elbowOut?: number;
}

export type PoseName = 'tucked' | 'upright' | 'rightHalf' | 'rightFull' | 'leftHalf' | 'leftFull';
export const POSES: Readonly<Record<PoseName, Pose>> = {
  tucked: { hang: 0.02, tuck: 1, headTilt: 0, look: 0 },
  upright: { hang: 0.05, tuck: 0.15, headTilt: 0, look: 0.05 },
  rightHalf: { hang: 0.5, tuck: 0.6, headTilt: -0.28, look: 0.18 },
  rightFull: { hang: 1, tuck: 0.82, headTilt: -0.42, look: 0.34 },
  leftHalf: { hang: -0.5, tuck: 0.6, headTilt: 0.28, look: -0.18 },
  leftFull: { hang: -1, tuck: 0.82, headTilt: 0.42, look: -0.34 },
};

interface Side {
  readonly shoulder: Vector;
  readonly elbow: Vector;
  readonly hand: Vector;
  readonly hip: Vector;
  readonly knee: Vector;
  readonly ankle: Vector;
}
export interface Skeleton {
  readonly pelvis: Vector;
  readonly chest: Vector;
  readonly neck: Vector;
  readonly head: Vector;
  readonly up: Vector;
  readonly right: Side;
  readonly left: Side;
}

/** The middle joint of a two-bone limb between `a` and `c`, bent towards `pole`. */
function middleJoint(a: Vector, c: Vector, first: number, second: number, pole: Vector): Vector {
  const d = subtract(c, a);
  const whole = Math.min(length(d), (first + second) * 0.999);
  const direction = unit(d);
  const along = (first * first - second * second + whole * whole) / (2 * whole);
  const out = Math.sqrt(Math.max(0, first * first - along * along));
  const aside = unit(subtract(pole, scale(direction, dot(pole, direction))));
  return add(add(a, scale(direction, along)), scale(aside, out));
}

export function skeletonOf({ hang, tuck, kneeOut, elbowOut }: Pose): Skeleton {
  const off = Math.abs(hang);
  const pelvis: Vector = [mix(-0.24, -0.3, tuck), 0.945 - 0.03 * off, 0.15 * hang];
  const chest: Vector = [mix(0.02, 0.055, tuck), mix(1.22, 1.06, tuck), 0.215 * hang];
  const neck: Vector = [mix(0.1, 0.165, tuck), mix(1.33, 1.085, tuck), 0.265 * hang];
  const head: Vector = [mix(0.2, 0.285, tuck), mix(1.455, 1.155, tuck) - 0.015 * off, 0.325 * hang];
  const up = unit([0, 1, 0.25 * hang]);
  const across = unit(cross(unit(subtract(neck, pelvis)), up));
  const roll = 0.28 * hang;
  const shoulders = unit(add(scale(across, cos(roll)), scale(up, -sin(roll))));
  const between2 = between(chest, neck, 0.62);
  const side = (z: 1 | -1): Side => {
    const inner = Math.max(0, z * hang);
    const outer = Math.max(0, -z * hang);
    const shoulder = add(between2, scale(shoulders, 0.185 * z));
    const hand: Vector = [0.395, 0.885, 0.3 * z];
    const hip = add(pelvis, [0, -0.02, 0.095 * z]);
    const ankle: Vector = [-0.295, 0.475, (0.205 + 0.02 * inner) * z];
    const elbowPole: Vector =
      inner > 0 && elbowOut !== undefined
        ? [mix(-0.4, -0.1, elbowOut), mix(-1, -0.15, elbowOut), mix(0.1, 1.4, elbowOut) * z]
        : [-0.25, -0.75 - 0.2 * inner, (0.75 - 0.1 * inner) * z];
    const knee = inner > 0 ? (kneeOut ?? inner) : 0;
    const kneePole: Vector = [1, mix(0.25, -0.35, knee), (mix(0.38, 1.55, knee) - 0.5 * outer) * z];
    return {
      shoulder,
      hand,
      hip,
      ankle,
      elbow: middleJoint(shoulder, hand, 0.29, 0.275, elbowPole),
      knee: middleJoint(hip, ankle, 0.43, 0.42, kneePole),
    };
  };
  return { pelvis, chest, neck, head, up, right: side(1), left: side(-1) };
}

/** Bones in the order the suit's patterns number them: 0–1 trunk, 2–5 arms, 6–9 legs. */
export const bonesOf = (s: Skeleton): readonly (readonly [Vector, Vector])[] => [
  [s.pelvis, s.chest],
  [s.chest, s.neck],
  [s.right.shoulder, s.right.elbow],
  [s.left.shoulder, s.left.elbow],
  [s.right.elbow, s.right.hand],
  [s.left.elbow, s.left.hand],
  [s.right.hip, s.right.knee],
  [s.left.hip, s.left.knee],
  [s.right.knee, s.right.ankle],
  [s.left.knee, s.left.ankle],
];

export const helmetFrame = (pose: Pose): Frame =>
  frameAlong(skeletonOf(pose).head, unit([1, -0.02 + 0.14 * (1 - pose.tuck), pose.look]), unit([0, 1, pose.headTilt]));

function trunk(s: Skeleton): Distance {
  const spine = subtract(s.neck, s.pelvis);
  const long = length(spine);
  const frame = frameAlong(between(s.pelvis, s.neck, 0.5), spine, s.up);
  const back = within(frame, (x, y, z) => {
    const t = clamp(x / long + 0.5);
    const wide =
      mix(mix(0.172, 0.155, smooth(0, 0.35, t)), 0.205, smooth(0.35, 0.78, t)) * mix(1, 0.55, smooth(0.86, 1.06, t));
    const deep =
      mix(mix(0.135, 0.118, smooth(0, 0.35, t)), 0.135, smooth(0.4, 0.75, t)) * mix(1, 0.6, smooth(0.9, 1.08, t));
    return blendMax((hypot(y / deep, z / wide) - 1) * Math.min(wide, deep) * 0.92, Math.abs(x) - long * 0.5, 0.09);
  });
  const hump = within(frame, ellipsoid([long * 0.36, 0.105, 0], [0.155, 0.062, 0.085]));
  const [px, py, pz] = s.pelvis;
  const seat: Distance = (x, y, z) => hypot(x - px + 0.055, y - py + 0.005, Math.abs(z - pz) - 0.072) - 0.118;
  return (x, y, z) => blendMin(blendMin(back(x, y, z), seat(x, y, z), 0.06), hump(x, y, z), 0.045);
}

const armOf = ({ shoulder, elbow, hand }: Side): Distance =>
  blended(
    0.035,
    capsule(shoulder, between(shoulder, elbow, 0.45), 0.07, 0.061),
    capsule(between(shoulder, elbow, 0.45), elbow, 0.061, 0.048),
    capsule(elbow, between(elbow, hand, 0.35), 0.05),
    capsule(between(elbow, hand, 0.35), between(elbow, hand, 0.86), 0.05, 0.036),
    sphere(add(shoulder, [0, 0.008, 0]), 0.08),
    sphere(elbow, 0.057),
  );

const kneeDirection = ({ hip, knee, ankle }: Side): Vector => unit(subtract(knee, between(hip, ankle, 0.5)));

const legOf = (side: Side): Distance => {
  const { hip, knee, ankle } = side;
  return blended(
    0.045,
    capsule(hip, between(hip, knee, 0.5), 0.1, 0.083),
    capsule(between(hip, knee, 0.5), knee, 0.083, 0.062),
    capsule(knee, between(knee, ankle, 0.35), 0.06, 0.062),
    capsule(between(knee, ankle, 0.35), between(knee, ankle, 0.9), 0.062, 0.047),
    sphere(add(knee, scale(kneeDirection(side), 0.018)), 0.062),
  );
};

const put = (mesh: Mesh, of: Distance, low: Vector, high: Vector, cell: number, part: Part): void =>
  addSurface(mesh, { of, low, high, cell, part, group: GROUP.body });

function addSuit(mesh: Mesh, s: Skeleton): void {
  const limbs = [armOf(s.right), armOf(s.left), legOf(s.right), legOf(s.left)];
  const body = trunk(s);
  const suit: Distance = (x, y, z) => {
    let d = body(x, y, z);
    for (const limb of limbs) d = blendMin(d, limb(x, y, z), 0.037);
    return d;
  };
  const across = bonesOf(s).flatMap(([a, b]) => [a[2], b[2]]);
  put(
    mesh,
    suit,
    [-0.62, 0.38, Math.min(...across) - 0.16],
    [0.56, 1.58, Math.max(...across) + 0.16],
    0.0125,
    PART.suit,
  );
}

function addExtremities(mesh: Mesh, side: Side, z: 1 | -1): void {
  const { elbow, hand, hip, knee, ankle } = side;
  const knuckles = add(hand, [0.045, 0.012, 0]);
  const glove = blended(
    0.02,
    capsule(between(elbow, hand, 0.72), between(elbow, hand, 0.9), 0.05, 0.045),
    capsule(between(elbow, hand, 0.86), knuckles, 0.042, 0.036),
    capsule(add(knuckles, [0, 0, -0.03 * z]), add(knuckles, [-0.015, -0.012, 0.042 * z]), 0.034, 0.03),
  );
  put(mesh, glove, subtract(hand, [0.26, 0.16, 0.2]), add(hand, [0.16, 0.26, 0.2]), 0.01, PART.glove);
  const toe = add(ankle, [0.17, -0.085, 0.022 * z]);
  const heel = add(ankle, [-0.055, -0.035, 0]);
  const boot = blended(
    0.025,
    capsule(between(ankle, knee, 0.5), ankle, 0.068, 0.053),
    capsule(ankle, heel, 0.05, 0.044),
    capsule(add(ankle, [0.01, -0.03, 0]), toe, 0.05, 0.034),
    capsule(add(heel, [0, -0.02, 0]), add(toe, [0, -0.008, 0]), 0.03, 0.028),
  );
  put(mesh, boot, subtract(ankle, [0.24, 0.19, 0.2]), add(ankle, [0.27, 0.36, 0.22]), 0.011, PART.boot);
  const out = unit(add(kneeDirection(side), [0, -0.2, 0.9 * z]));
  const centre = add(knee, scale(out, 0.062));
  const slider = within(
    frameAlong(centre, out, unit(subtract(hip, ankle))),
    roundedBox([0, 0, 0], [0.018, 0.05, 0.042], 0.016),
  );
  put(mesh, slider, subtract(centre, [0.08, 0.08, 0.08]), add(centre, [0.08, 0.08, 0.08]), 0.01, PART.slider);
}

/** Below 0 inside the visor's opening, in the helmet's own axes. */
export const visorRegion = (x: number, y: number): number => {
  const middle = 0.005 + 0.02 * smooth(0.1, -0.05, x);
  const halfHeight = 0.055 * smooth(-0.06, 0.03, x) + 0.001;
  return Math.max(Math.abs(y - middle) - halfHeight, -0.045 - x);
};

function addHelmet(mesh: Mesh, pose: Pose, s: Skeleton): void {
  const shell: Distance = (x, y, z) => {
    let d = ellipsoid([-0.008, 0.012, 0], [0.152, 0.138, 0.128])(x, y, z);
    d = blendMin(d, ellipsoid([0.055, -0.062, 0], [0.108, 0.078, 0.102])(x, y, z), 0.06);
    d = blendMin(d, ellipsoid([-0.03, -0.075, 0], [0.112, 0.075, 0.108])(x, y, z), 0.06);
    d = blendMin(d, capsule([0.142, -0.088, -0.025], [0.142, -0.088, 0.025], 0.03)(x, y, z), 0.05);
    d = blendMin(d, roundedBox([-0.135, 0.055, 0], [0.05, 0.012, 0.062], 0.012)(x, y, z), 0.035);
    return Math.max(d, -(y + 0.132));
  };
  const frame = helmetFrame(pose);
  put(
    mesh,
    within(frame, shell),
    subtract(s.head, [0.23, 0.21, 0.21]),
    add(s.head, [0.23, 0.21, 0.21]),
    0.009,
    PART.helmet,
  );
  const neck = capsule(s.neck, between(s.neck, s.head, 0.7), 0.075, 0.08);
  put(mesh, neck, subtract(s.neck, [0.15, 0.15, 0.15]), add(s.head, [0.12, 0.12, 0.12]), 0.015, PART.black);
}

export function addRider(mesh: Mesh, pose: Pose): void {
  const s = skeletonOf(pose);
  addSuit(mesh, s);
  addExtremities(mesh, s.right, 1);
  addExtremities(mesh, s.left, -1);
  addHelmet(mesh, pose, s);
}

/** For the patterns of leathers and helmet, which are drawn along bones and round the head. */
export interface RiderAxes {
  /** Per bone 14 numbers: start xyz, direction xyz, 1/length², two axes across, weight. */
  readonly bones: Float64Array;
  readonly helmet: Frame;
}
export function riderAxes(pose: Pose): RiderAxes {
  const s = skeletonOf(pose);
  const table = new Float64Array(10 * 14);
  bonesOf(s).forEach(([a, b], i) => {
    const d = subtract(b, a);
    const axis = unit(d);
    const first = unit(cross(axis, i < 2 ? s.up : [0.3, 1, 0]));
    const second = cross(first, axis);
    table.set([...a, ...d, 1 / dot(d, d), ...first, ...second, i < 2 ? 1 / 1.9 : 1], i * 14);
  });
  return { bones: table, helmet: helmetFrame(pose) };
}

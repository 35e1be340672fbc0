/** Wheels, forks, frame, engine, swinging arm, exhaust: what bodywork hangs on. */
import { blended, bothSides, capsule, type Distance, frameAlong, roundedBox, union, within } from './distance.js';
import { atan2, cos, hypot, mix, PI, sin, smooth, type Vector } from './maths.js';
import { addSurface, addTurned, type Mesh } from './mesh.js';
import { GROUP, type Group, PART, type Part } from './parts.js';
import { FRONT_AXLE, FRONT_RADIUS, REAR_AXLE, REAR_RADIUS, type Shape } from './shapes.js';

interface Wheel {
  readonly axle: Vector;
  readonly radius: number;
  readonly halfWidth: number;
  readonly rim: number;
  readonly group: Group;
}
const FRONT: Wheel = { axle: FRONT_AXLE, radius: FRONT_RADIUS, halfWidth: 0.061, rim: 0.216, group: GROUP.frontWheel };
const REAR: Wheel = { axle: REAR_AXLE, radius: REAR_RADIUS, halfWidth: 0.095, rim: 0.214, group: GROUP.rearWheel };

function addTyre(mesh: Mesh, { axle, radius, halfWidth, rim, group }: Wheel): void {
  const profile: [number, number][] = [];
  const steps = 16;
  for (let i = 0; i <= steps; i++) {
    const across = -1 + (2 * i) / steps;
    const a = Math.abs(across);
    const bulge = sin((across * PI) / 2) * (a > 0.9 ? 1 - (a - 0.9) * 1.6 : 1);
    profile.push([radius - (radius - rim) * a * a * Math.sqrt(a), halfWidth * bulge]);
  }
  addTurned(mesh, { x: axle[0], y: axle[1], profile, segments: 60, part: PART.tyre, group });
  const w = halfWidth * 0.8;
  const rimProfile: [number, number][] = [
    [rim + 0.006, -w],
    [rim + 0.002, -w - 0.01],
    [rim - 0.016, -w],
    [rim - 0.026, -w + 0.02],
    [rim - 0.03, 0],
    [rim - 0.026, w - 0.02],
    [rim - 0.016, w],
    [rim + 0.002, w + 0.01],
    [rim + 0.006, w],
  ];
  addTurned(mesh, { x: axle[0], y: axle[1], profile: rimProfile, segments: 60, part: PART.rim, group });
}

function addSpokes(mesh: Mesh, { axle, rim, halfWidth, group }: Wheel, count: number): void {
  const step = (2 * PI) / count;
  const reach = rim - 0.006;
  const width = halfWidth * 0.72;
  const wheel: Distance = (wx, wy, z) => {
    const x = wx - axle[0];
    const y = wy - axle[1];
    const r = hypot(x, y);
    const angle = atan2(y, x) / step;
    const local = (angle - Math.floor(angle) - 0.5) * step;
    const along = cos(local) * r;
    const aside = Math.abs(sin(local) * r);
    // Few spokes fork towards the rim, many stay straight.
    const fork =
      count === 3 ? 0.075 * smooth(0.04, reach, along) : count === 5 ? 0.036 * smooth(0.08, reach, along) : 0;
    const thick = (count > 5 ? 0.6 : 1) * mix(0.024, 0.011, smooth(0.05, reach, r));
    const qy = Math.abs(aside - fork) - thick;
    const qz = Math.abs(z) - mix(width * 0.6, width * 0.42, r / reach);
    const spoke = Math.max(
      hypot(Math.max(qy, 0), Math.max(qz, 0)) + Math.min(Math.max(qy, qz), 0) - 0.004,
      r - reach + 0.01,
    );
    const hub = Math.max(r - 0.05, Math.abs(z) - width * 0.95);
    return Math.min(hub, spoke);
  };
  addSurface(mesh, {
    of: wheel,
    low: [axle[0] - reach, axle[1] - reach, -width - 0.015],
    high: [axle[0] + reach, axle[1] + reach, width + 0.015],
    cell: 0.009,
    part: PART.rim,
    group,
  });
}

function addDisc(mesh: Mesh, { axle, group }: Wheel, z: number, outer: number, inner: number): void {
  const ring = (a: number, b: number, t: number): [number, number][] => [
    [a, z - t],
    [b - 0.002, z - t],
    [b, z],
    [b - 0.002, z + t],
    [a, z + t],
  ];
  addTurned(mesh, { x: axle[0], y: axle[1], profile: ring(inner, outer, 0.003), segments: 48, part: PART.disc, group });
  addTurned(mesh, {
    x: axle[0],
    y: axle[1],
    profile: ring(0.05, inner + 0.006, 0.002),
    segments: 32,
    part: PART.carrier,
    group,
  });
}

export function addWheels(mesh: Mesh, shape: Shape): void {
  for (const wheel of [FRONT, REAR]) {
    addTyre(mesh, wheel);
    addSpokes(mesh, wheel, shape.spokes);
  }
  addDisc(mesh, FRONT, 0.068, 0.16, 0.12);
  addDisc(mesh, FRONT, -0.068, 0.16, 0.12);
  addDisc(mesh, REAR, 0.098, 0.11, 0.085);
}

const add = (mesh: Mesh, of: Distance, low: Vector, high: Vector, cell: number, part: Part): void =>
  addSurface(mesh, { of, low, high, cell, part, group: GROUP.body, steepness: 1.5 });

const RAKE: Vector = [-0.405, 0.914, 0];
const onFork = (l: number, z: number): Vector => [FRONT_AXLE[0] + RAKE[0] * l, FRONT_AXLE[1] + RAKE[1] * l, z];

function addFork(mesh: Mesh): void {
  add(
    mesh,
    bothSides(capsule(onFork(-0.02, 0.098), onFork(0.3, 0.104), 0.027)),
    [0.5, 0.22, -0.14],
    [0.78, 0.64, 0.14],
    0.009,
    PART.black,
  );
  add(
    mesh,
    bothSides(capsule(onFork(0.26, 0.104), onFork(0.7, 0.104), 0.022)),
    [0.36, 0.5, -0.14],
    [0.7, 1.0, 0.14],
    0.01,
    PART.fork,
  );
  const calliper = within(
    frameAlong([FRONT_AXLE[0] - 0.1, FRONT_AXLE[1] + 0.075, 0.092], [-0.45, 0.9, 0], [1, 0, 0]),
    roundedBox([0, 0, 0], [0.052, 0.03, 0.026], 0.012),
  );
  const axle = capsule([FRONT_AXLE[0], FRONT_AXLE[1], 0.05], [FRONT_AXLE[0], FRONT_AXLE[1], 0.115], 0.02);
  add(mesh, bothSides(union(calliper, axle)), [0.55, 0.24, -0.14], [0.78, 0.47, 0.14], 0.009, PART.carrier);
  const bars = union(
    capsule([0.44, 0.9, 0.06], [0.385, 0.872, 0.35], 0.015),
    capsule([0.445, 0.895, 0.18], [0.455, 0.865, 0.33], 0.007),
    roundedBox([0.44, 0.9, 0], [0.05, 0.018, 0.13], 0.012),
  );
  add(mesh, bothSides(bars), [0.34, 0.83, -0.38], [0.52, 0.94, 0.38], 0.01, PART.black);
}

function addEngineAndFrame(mesh: Mesh, shape: Shape): void {
  const radiator = roundedBox([0.28, 0.56, 0], [0.035, 0.15, 0.16], 0.01);
  const crankcase = roundedBox([0.02, 0.44, 0], [0.22, 0.19, 0.155], 0.05);
  const cylinders = within(
    frameAlong([0.14, 0.62, 0], [0.5, 0.86, 0], [0, 0, 1]),
    roundedBox([0, 0, 0], [0.14, 0.14, 0.1], 0.03),
  );
  add(mesh, union(radiator, crankcase, cylinders), [-0.25, 0.22, -0.2], [0.36, 0.8, 0.2], 0.014, PART.engine);
  const cover: Distance = (x, y, z) => Math.max(hypot(x + 0.1, y - 0.4) - 0.085, Math.abs(z - 0.165) - 0.022) - 0.006;
  const beams = blended(
    0.05,
    capsule([0.4, 0.86, 0.07], [0.12, 0.74, 0.16], 0.035),
    capsule([0.12, 0.74, 0.16], [-0.17, 0.6, 0.155], 0.042, 0.04),
    capsule([-0.17, 0.62, 0.15], [-0.2, 0.38, 0.145], 0.04, 0.032),
  );
  add(mesh, bothSides(union(beams, cover)), [-0.28, 0.3, -0.24], [0.48, 0.93, 0.24], 0.012, PART.alloy);
  if (shape.name !== 'naked') return;
  const pipes = union(
    capsule([0.3, 0.6, 0.08], [0.34, 0.4, 0.09], 0.022),
    capsule([0.34, 0.4, 0.09], [0.22, 0.2, 0.06], 0.022),
    capsule([0.22, 0.2, 0.06], [-0.1, 0.18, 0.05], 0.026),
  );
  add(mesh, bothSides(pipes), [-0.16, 0.12, -0.16], [0.42, 0.66, 0.16], 0.01, PART.exhaust);
}

function addSwingingArm(mesh: Mesh): void {
  const arm: Distance = within(frameAlong([-0.46, 0.375, 0.12], [-1, -0.1, 0.03], [0, 1, 0]), (x, y, z) =>
    roundedBox([0, 0, 0], [0.26, mix(0.055, 0.028, smooth(-0.25, 0.25, x)), 0.018], 0.014)(x, y, z),
  );
  const brace = capsule([-0.25, 0.45, 0.115], [-0.44, 0.43, 0.12], 0.028, 0.02);
  const spindle = capsule([-0.7, 0.318, 0.09], [-0.7, 0.318, 0.15], 0.02);
  add(mesh, bothSides(blended(0.03, arm, brace, spindle)), [-0.8, 0.24, -0.18], [-0.16, 0.52, 0.18], 0.01, PART.alloy);
  const hugger: Distance = (x, y, z) => {
    const px = x - REAR_AXLE[0];
    const py = y - REAR_AXLE[1];
    const angle = atan2(py, px);
    const shell = Math.abs(hypot(px, py) - 0.346 + z * z * 3) - 0.009;
    return Math.max(shell, Math.abs(z) - 0.095, (0.35 - angle) * 0.3, (angle - 1.75) * 0.3);
  };
  add(mesh, hugger, [-0.8, 0.4, -0.12], [-0.3, 0.7, 0.12], 0.011, PART.black);
  const chain = union(
    capsule([-0.7, 0.42, -0.1], [-0.2, 0.43, -0.1], 0.009),
    capsule([-0.7, 0.222, -0.1], [-0.2, 0.35, -0.1], 0.009),
  );
  add(mesh, chain, [-0.74, 0.19, -0.13], [-0.16, 0.46, -0.07], 0.009, PART.engine);
  const pegs = union(
    capsule([-0.265, 0.405, 0.14], [-0.27, 0.405, 0.25], 0.013),
    capsule([-0.2, 0.46, 0.15], [-0.27, 0.405, 0.17], 0.016),
    capsule([-0.27, 0.405, 0.17], [-0.36, 0.5, 0.16], 0.011),
  );
  add(mesh, bothSides(pegs), [-0.4, 0.36, -0.27], [-0.16, 0.54, 0.27], 0.009, PART.alloy);
}

function addExhaust(mesh: Mesh, kind: Shape['exhaust']): void {
  switch (kind) {
    case 'side':
      add(
        mesh,
        blended(
          0.03,
          capsule([-0.22, 0.2, 0.1], [-0.36, 0.3, 0.16], 0.03),
          capsule([-0.38, 0.32, 0.175], [-0.67, 0.51, 0.205], 0.05, 0.056),
        ),
        [-0.76, 0.14, 0.04],
        [-0.16, 0.6, 0.3],
        0.01,
        PART.exhaust,
      );
      break;
    case 'underTail':
      add(
        mesh,
        bothSides(
          blended(
            0.03,
            capsule([-0.3, 0.62, 0.1], [-0.48, 0.76, 0.085], 0.026),
            capsule([-0.5, 0.79, 0.082], [-0.84, 0.95, 0.075], 0.042, 0.046),
          ),
        ),
        [-0.94, 0.55, -0.16],
        [-0.24, 1.03, 0.16],
        0.01,
        PART.exhaust,
      );
      break;
    case 'belly':
      add(
        mesh,
        blended(
          0.03,
          capsule([-0.1, 0.19, 0.06], [-0.22, 0.22, 0.14], 0.035),
          capsule([-0.24, 0.225, 0.15], [-0.48, 0.31, 0.19], 0.058, 0.052),
        ),
        [-0.58, 0.12, 0.0],
        [-0.02, 0.4, 0.27],
        0.01,
        PART.exhaust,
      );
      break;
  }
}

export function addChassis(mesh: Mesh, shape: Shape): void {
  addWheels(mesh, shape);
  addFork(mesh);
  addEngineAndFrame(mesh, shape);
  addSwingingArm(mesh);
  addExhaust(mesh, shape.exhaust);
}

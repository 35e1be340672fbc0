/** Fairing, screen, tank, tail and front mudguard of a bike. */
import { blendMax, type Distance } from './distance.js';
import { atan2, clamp, hypot, mix, pow, smooth } from './maths.js';
import { addSurface, type Mesh } from './mesh.js';
import { extruded, fieldOf, type PlaneDistance } from './outline.js';
import { GROUP, PART } from './parts.js';
import { FRONT_AXLE, type Shape } from './shapes.js';

/** Plan view: wide at the knees, drawn in to a point at the nose. */
function fairingHalfWidth(shape: Shape): PlaneDistance {
  const nose = Math.max(...shape.fairing.map((p) => p[0]));
  return (x, y) => {
    const along = clamp((x - 0.18) / (nose - 0.18 + 0.02));
    const plan = pow(Math.max(1 - along * along * (0.35 + 0.65 * along), 0.001), 0.6);
    const height = y > 0.72 ? mix(1, 0.72, smooth(0.78, 1.02, y)) : mix(0.6, 1, smooth(0.12, 0.7, y));
    const rear = mix(0.82, 1, smooth(-0.35, 0.15, x));
    return Math.max(shape.fairingHalfWidth * plan * height * rear, 0.004) + 0.01;
  };
}

function fairing(shape: Shape): Distance {
  const halfWidth = fairingHalfWidth(shape);
  const solid = extruded(fieldOf(shape.fairing), halfWidth, 0.045, 0.07);
  // A crease along the side catches the light as real panels do.
  const creased: Distance = (x, y, z) => {
    const above = y - (0.73 + 0.2 * (x - 0.3));
    return solid(x, y, z) - 0.012 * smooth(-0.014, 0.014, above) * smooth(1.0, 0.8, y);
  };
  // Hollow where the forks, the radiator and the engine stand.
  const hollow: Distance = (x, y, z) =>
    Math.max(Math.abs(z) - (halfWidth(x, y) - 0.034), 0.3 + 0.12 * smooth(0.55, 0.7, y) - x, y - 0.73);
  const openRear: Distance = (x, y, z) =>
    Math.max(Math.abs(z) - (halfWidth(x, y) - 0.03), x + 0.02 - (y - 0.5) * 0.4, 0.34 - y);
  return (x, y, z) => Math.max(blendMax(creased(x, y, z), -hollow(x, y, z), 0.006), -openRear(x, y, z));
}

function addScreen(mesh: Mesh, shape: Shape): void {
  if (!shape.screen) return;
  const halfWidth: PlaneDistance = (x, y) => {
    const along = clamp((x - 0.25) / 0.56);
    return Math.max(0.005, 0.185 * pow(Math.max(1 - along * along, 0.001), 0.6) * mix(1, 0.72, smooth(0.96, 1.16, y)));
  };
  const outer = extruded(fieldOf(shape.screen), halfWidth, 0.05, 0.09);
  const shell: Distance = (x, y, z) =>
    Math.max(outer(x, y, z), -(outer(x + 0.007, y + 0.009, z * 1.04) + 0.004), 0.955 - y - (x - 0.5) * 0.25);
  addSurface(mesh, {
    of: shell,
    low: [0.3, 0.86, -0.21],
    high: [0.86, 1.24, 0.21],
    cell: 0.009,
    part: PART.screen,
    group: GROUP.body,
    steepness: 1.7,
  });
}

function addTank(mesh: Mesh, shape: Shape): void {
  const halfWidth: PlaneDistance = (x, y) =>
    mix(0.09, 0.165, smooth(-0.16, 0.12, x)) * mix(1, 0.8, smooth(0.92, 1.03, y)) * mix(0.72, 1, smooth(0.76, 0.88, y));
  addSurface(mesh, {
    of: extruded(fieldOf(shape.tank), halfWidth, 0.06, 0.09),
    low: [-0.2, 0.68, -0.2],
    high: [0.38, 1.07, 0.2],
    cell: 0.011,
    part: PART.tank,
    group: GROUP.body,
    steepness: 1.6,
  });
}

function addTail(mesh: Mesh, shape: Shape): void {
  const halfWidth: PlaneDistance = (x, y) =>
    mix(0.045, 0.135, smooth(-0.86, -0.28, x)) *
    mix(0.78, 1, smooth(0.74, 0.84, y)) *
    mix(1, 0.86, smooth(-0.3, -0.1, x));
  addSurface(mesh, {
    of: extruded(fieldOf(shape.tail), halfWidth, 0.03, 0.05),
    low: [-0.96, 0.68, -0.17],
    high: [-0.04, 1.12, 0.17],
    cell: 0.01,
    part: PART.tail,
    group: GROUP.body,
    steepness: 1.6,
  });
}

function addMudguard(mesh: Mesh): void {
  const guard: Distance = (x, y, z) => {
    const px = x - FRONT_AXLE[0];
    const py = y - FRONT_AXLE[1];
    const angle = atan2(py, px);
    const shell = Math.abs(hypot(px, py) - (0.326 - 2.9 * z * z)) - 0.008;
    return Math.max(
      shell,
      Math.abs(z) - 0.08 + 0.03 * smooth(1.7, 0.2, angle),
      (0.2 - angle) * 0.3,
      (angle - 2.8) * 0.3,
    );
  };
  addSurface(mesh, {
    of: guard,
    low: [FRONT_AXLE[0] - 0.37, FRONT_AXLE[1], -0.1],
    high: [FRONT_AXLE[0] + 0.37, FRONT_AXLE[1] + 0.37, 0.1],
    cell: 0.009,
    part: PART.mudguard,
    group: GROUP.body,
    steepness: 1.6,
  });
}

export function addBodywork(mesh: Mesh, shape: Shape): void {
  addSurface(mesh, {
    of: fairing(shape),
    low: [-0.42, 0.11, -0.31],
    high: [0.96, 1.07, 0.31],
    cell: 0.0105,
    part: PART.fairing,
    group: GROUP.body,
    steepness: 1.7,
  });
  addScreen(mesh, shape);
  addTank(mesh, shape);
  addTail(mesh, shape);
  addMudguard(mesh);
}

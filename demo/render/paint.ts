/** What a point of bike or rider is made of: colour, roughness, metal, clear coat. */
import { luminance, PAINTS, type Rgb, rgb } from './colours.js';
import { numberDistance, numberWidth } from './digits.js';
import type { Livery } from './livery.js';
import { atan2, clamp, cos, hypot, mix, PI, sin, smooth } from './maths.js';
import { cloudNoise, noise2 } from './noise.js';
import { type PlaneDistance, polygonDistance } from './outline.js';
import { PART, type Part } from './parts.js';
import { type RiderAxes, visorRegion } from './rider.js';
import type { Shape } from './shapes.js';

/** Filled in place for every point shaded: allocating a record a pixel would cost more than the shading. */
export interface Surface {
  r: number;
  g: number;
  b: number;
  roughness: number;
  metal: number;
  coat: number;
  /** Strength of creases in the normal. */
  creases: number;
}
export const surface: Surface = { r: 0, g: 0, b: 0, roughness: 0.3, metal: 0, coat: 0, creases: 0 };

const cover = (c: Rgb, share: number): void => {
  surface.r = mix(surface.r, c[0], share);
  surface.g = mix(surface.g, c[1], share);
  surface.b = mix(surface.b, c[2], share);
};
/** 1 inside (`d` below 0), 0 outside, soft over a few millimetres. */
const inside = (d: number, softness = 0.0026): number => smooth(softness, -softness, d);
const sawtooth = (x: number): number => Math.abs(x - Math.floor(x) - 0.5) * 2;
const finish = (roughness: number, metal = 0, coat = 0, creases = 0): Surface => {
  surface.roughness = roughness;
  surface.metal = metal;
  surface.coat = coat;
  surface.creases = creases;
  return surface;
};

const BLACK_TRIM: Rgb = [0.014, 0.014, 0.015];
const GAP: Rgb = [0.008, 0.008, 0.008];
const LENS: Rgb = [0.05, 0.055, 0.06];
const MUD: Rgb = [0.06, 0.052, 0.045];
const VISORS = { dark: rgb('#1c1d20'), blue: rgb('#1d4a86'), amber: rgb('#8a5a18') } as const;

/** A livery with its colours looked up, ready to paint. */
export interface Paints {
  readonly livery: Livery;
  readonly shape: Shape;
  readonly vents: readonly PlaneDistance[];
  readonly rider: RiderAxes;
  readonly ink: Rgb;
  readonly seedX: number;
}
export const paintsOf = (livery: Livery, shape: Shape, rider: RiderAxes): Paints => ({
  livery,
  shape,
  rider,
  vents: shape.vents.map((polygon) => (x: number, y: number) => polygonDistance(polygon, x, y)),
  ink: luminance(PAINTS[livery.plate]) > 0.25 ? PAINTS.black : PAINTS.white,
  seedX: livery.base.length * 3.7 + livery.accent.length * 1.9,
});

function bikePattern({ livery, seedX }: Paints, x: number, y: number, z: number, ny: number): void {
  const accent = PAINTS[livery.accent];
  const line = PAINTS[livery.line];
  cover(PAINTS[livery.base], 1);
  switch (livery.pattern) {
    case 'plain':
      cover(line, inside(Math.abs(y - 0.3 - 0.1 * x) - 0.012));
      break;
    case 'sweep': {
      const edge = y - (0.3 + 0.42 * (x + 0.1) + 0.05 * sin(x * 4.2 + 0.6));
      cover(accent, inside(edge) * inside(-0.13 - edge) + inside(x + 0.62));
      cover(line, inside(Math.abs(edge - 0.018) - 0.009));
      break;
    }
    case 'bands': {
      const u = x * 0.9 + y * 0.55;
      cover(accent, inside(Math.abs(u - 0.72) - 0.075));
      cover(line, inside(Math.abs(Math.abs(u - 0.72) - 0.1) - 0.009));
      cover(accent, inside(Math.abs(u - 0.2) - 0.04));
      cover(accent, inside(u + 0.16));
      break;
    }
    case 'split': {
      const u = x + 0.3 + 0.35 * (y - 0.7) + 0.09 * (sawtooth(y * 4.6) - 0.5);
      cover(accent, inside(u));
      cover(line, inside(Math.abs(u + 0.02) - 0.011));
      cover(accent, inside(y - 0.26));
      break;
    }
    case 'lowerHalf':
      cover(accent, inside(y - 0.31 - 0.14 * x));
      cover(line, inside(Math.abs(y - 0.325 - 0.14 * x) - 0.008));
      break;
    case 'stripe': {
      const edge = Math.abs(y - 0.78 - 0.26 * (x - 0.3)) - 0.035 + 0.04 * smooth(0.9, -0.9, x);
      cover(accent, inside(edge));
      cover(line, inside(Math.abs(edge - 0.02) - 0.007));
      cover(accent, inside(y - 0.22));
      break;
    }
    case 'flames': {
      const tongue = sawtooth(y * 4.2 + 0.5 * x + 0.25 * cloudNoise(x * 5 + seedX, y * 5, 2));
      const reach = 0.62 - 0.5 * tongue;
      cover(accent, inside((reach - x) * 0.4) * smooth(0.1, 0.16, y));
      cover(line, inside(Math.abs(reach - x) * 0.4 - 0.006));
      break;
    }
    case 'checks': {
      const k = Math.floor((x + 2) * 13) + Math.floor((y + 0.4 * x + 2) * 13);
      cover(accent, (k % 2 === 0 ? 1 : 0) * inside(Math.abs(x + 0.05) - 0.12));
      cover(accent, inside(x + 0.6));
      break;
    }
  }
  if (Math.abs(z) < 0.045 && ny > 0.3) cover(line, 0.9 * inside(Math.abs(Math.abs(z) - 0.022) - 0.007));
}

/** A number plate of the given half size, its figures running along `u`. */
function plate({ livery, ink }: Paints, u: number, v: number, halfWidth: number, halfHeight: number): void {
  if (livery.number === null) return;
  const d = hypot(Math.max(Math.abs(u) - halfWidth + 0.02, 0), Math.max(Math.abs(v) - halfHeight + 0.02, 0)) - 0.02;
  if (d > 0.008) return;
  cover(ink, inside(d - 0.004));
  cover(PAINTS[livery.plate], inside(d));
  const height = Math.min(halfHeight * 1.5, (halfWidth * 1.75) / numberWidth(livery.number));
  cover(ink, inside(numberDistance(livery.number, u / height, v / height) * height, 0.002));
}

function fairing(paints: Paints, x: number, y: number, z: number, nx: number, nz: number): void {
  const side = Math.abs(nz) > 0.35;
  const facing = z > 0 ? 1 : -1;
  if (side) plate(paints, (x - 0.52 + (y - 0.785) * 0.2) * facing, y - 0.785, 0.115, 0.08);
  if (x > 0.5 && nx > 0.12) plate(paints, -z, y - 0.87, 0.085, 0.062);
  if (side) {
    for (const vent of paints.vents) {
      const d = vent(x, y);
      if (d < 0.01) {
        cover(BLACK_TRIM, inside(d));
        if (d < 0) finish(0.7);
      }
    }
    cover(
      GAP,
      0.8 * inside(Math.abs(y - (0.5 + 0.2 * (x - 0.1))) - 0.0035) * (y > 0.3 && paints.shape.name !== 'naked' ? 1 : 0),
    );
  }
  const slanted = Math.abs(z) * 0.55 + (y - 0.83) * 1.0 - 0.05;
  const lamp = Math.max(Math.abs(slanted) - 0.017, 0.028 - Math.abs(z), Math.abs(z) - 0.13, 0.6 - x);
  if (paints.livery.number === null && nx > 0.1 && lamp < 0.01) {
    cover(LENS, inside(lamp));
    if (lamp < 0) finish(0.15, 0, 1);
  }
}

function bodywork(
  part: Part,
  paints: Paints,
  x: number,
  y: number,
  z: number,
  nx: number,
  ny: number,
  nz: number,
): Surface {
  bikePattern(paints, x, y, z, ny);
  finish(0.42, 0, 1);
  if (part === PART.fairing) fairing(paints, x, y, z, nx, nz);
  if (part === PART.tail && x > -0.4 && ny > 0.5) {
    cover(BLACK_TRIM, 1);
    finish(0.8, 0, 0, 0.4);
  }
  if (part === PART.tail && x < -0.83 && nx < -0.2) cover(PAINTS.red, 0.8);
  const under = part === PART.tank ? 0.79 : part === PART.tail ? 0.765 : 0;
  if (y < under) {
    cover(BLACK_TRIM, 1);
    finish(0.6);
  }
  if (y < 0.5) {
    const d = paints.livery.dirt * smooth(0.5, 0.12, y) * noise2(x * 18 + 40, y * 18 + z * 9);
    cover(MUD, d * 0.6);
    surface.coat *= 1 - d * 0.5;
  }
  return surface;
}

const bone = { index: 0, t: 0, angle: 0 };
/** Nearest bone, how far along it, and the angle around it. */
function nearestBone(table: Float64Array, x: number, y: number, z: number): void {
  let best = 1e9;
  for (let i = 0, p = 0; i < 10; i++, p += 14) {
    const wx = x - table[p]!;
    const wy = y - table[p + 1]!;
    const wz = z - table[p + 2]!;
    const t = clamp((wx * table[p + 3]! + wy * table[p + 4]! + wz * table[p + 5]!) * table[p + 6]!);
    const ex = wx - table[p + 3]! * t;
    const ey = wy - table[p + 4]! * t;
    const ez = wz - table[p + 5]! * t;
    const d = hypot(ex, ey, ez) * table[p + 13]!;
    if (d >= best) continue;
    best = d;
    bone.index = i;
    bone.t = t;
    bone.angle = atan2(
      ex * table[p + 10]! + ey * table[p + 11]! + ez * table[p + 12]!,
      ex * table[p + 7]! + ey * table[p + 8]! + ez * table[p + 9]!,
    );
  }
}

const SOFT = 0.018;
const within = (d: number): number => smooth(SOFT, -SOFT, d);

function suit({ livery, rider }: Paints, x: number, y: number, z: number): Surface {
  nearestBone(rider.bones, x, y, z);
  const { index, t, angle } = bone;
  const accent = PAINTS[livery.suitAccent];
  cover(PAINTS[livery.suit], 1);
  const isTrunk = index < 2;
  const isArm = index >= 2 && index < 6;
  const isThigh = index === 6 || index === 7;
  const along = isTrunk
    ? (index + t) / 2
    : isArm
      ? index < 4
        ? t * 0.5
        : 0.5 + t * 0.5
      : isThigh
        ? t * 0.5
        : 0.5 + t * 0.5;
  switch (livery.suitPattern) {
    case 'plain':
      break;
    case 'sides':
      cover(accent, isTrunk ? within(0.75 - Math.abs(sin(angle))) : within(Math.abs(angle) - 0.7));
      break;
    case 'yoke':
      cover(accent, isTrunk ? within(0.55 + 0.1 * cos(angle) - along) : isArm ? within(along - 0.26) : 0);
      break;
    case 'hoops':
      cover(accent, within(Math.abs(sawtooth(along * 2 + 0.2)) - 0.24));
      break;
    case 'legs':
      cover(
        accent,
        isTrunk ? within(along - 0.16) : isArm ? within(0.74 - along) : isThigh ? within(0.2 - along) : 0.9,
      );
      break;
  }
  finish(0.46, 0, 0.12, creaseStrength(index, t));
  const stretch = isArm
    ? Math.abs(along - 0.5) < 0.05
    : !isTrunk && (along < 0.05 || (along > 0.46 && along < 0.54 && cos(angle) < -0.2));
  if (stretch) cover(BLACK_TRIM, 0.85);
  const seam = isTrunk ? Math.abs(along - 0.44) : Math.min(Math.abs(t - 0.16), Math.abs(t - 0.86)) * 0.4;
  if (seam < 0.004) cover(BLACK_TRIM, 0.5);
  return surface;
}

const creaseStrength = (index: number, t: number): number =>
  index < 2 ? 0.08 + 0.16 * smooth(0.75, 0.2, t) : 0.06 + 0.4 * Math.max(smooth(0.35, 0.06, t), smooth(0.65, 0.94, t));

function helmet({ livery, rider }: Paints, x: number, y: number, z: number): Surface {
  const f = rider.helmet;
  const dx = x - f.origin[0];
  const dy = y - f.origin[1];
  const dz = z - f.origin[2];
  const hx = dx * f.x[0] + dy * f.x[1] + dz * f.x[2];
  const hy = dx * f.y[0] + dy * f.y[1] + dz * f.y[2];
  const hz = dx * f.z[0] + dy * f.z[1] + dz * f.z[2];
  const visor = visorRegion(hx, hy);
  if (visor < -0.004) {
    cover(VISORS[livery.visor], 1);
    finish(0.16, 0, 1);
    return surface;
  }
  if (visor < 0.003 || hy < -0.118) {
    cover(BLACK_TRIM, 1);
    finish(0.55);
    return surface;
  }
  const accent = PAINTS[livery.helmetAccent];
  const around = atan2(hz, hx);
  cover(PAINTS[livery.helmet], 1);
  finish(0.35, 0, 1);
  switch (livery.helmetPattern) {
    case 'plain':
      break;
    case 'wave':
      cover(accent, smooth(0.04, -0.04, hy * 6 - Math.abs(sin(around)) * 0.6 + 0.3));
      break;
    case 'spokes':
      cover(accent, smooth(-0.06, 0.06, sin(around * 3 + hy * 24)));
      break;
    case 'stripe':
      cover(accent, inside(Math.abs(hz) - 0.034, 0.004) * smooth(0.0, 0.02, hy + 0.02));
      break;
    case 'crown':
      cover(accent, inside(0.045 + 0.03 * cos(around) - hy, 0.004));
      break;
  }
  return surface;
}

/** Fills `surface` for a point of the bike's own space; `u`, `v` are the part's own coordinates. */
export function paint(
  part: Part,
  p: Paints,
  x: number,
  y: number,
  z: number,
  nx: number,
  ny: number,
  nz: number,
  u: number,
  v: number,
): Surface {
  const { livery } = p;
  switch (part) {
    case PART.fairing:
    case PART.tank:
    case PART.tail:
    case PART.mudguard:
      return bodywork(part, p, x, y, z, nx, ny, nz);
    case PART.screen:
      cover([0.03, 0.034, 0.04], 1);
      return finish(0.2, 0, 1);
    case PART.tyre: {
      const tread = smooth(0.26, 0.285, v);
      cover([mix(0.012, 0.024, tread), mix(0.012, 0.024, tread), mix(0.012, 0.023, tread)], 1);
      return finish(mix(0.55, 0.72, tread));
    }
    case PART.rim:
      cover(PAINTS[livery.rims], 1);
      return finish(0.35, 0, 0.6);
    case PART.disc: {
      const hole = sawtooth((u * 9) / PI) * 0.5 + sawtooth(v * 60) * 0.5 > 0.8 ? 0.15 : 1;
      cover([0.44 * hole, 0.43 * hole, 0.42 * hole], 1);
      return finish(0.28, 1);
    }
    case PART.carrier:
      cover([0.2, 0.17, 0.1], 1);
      return finish(0.35, 0.5);
    case PART.fork:
      cover([0.45, 0.33, 0.12], 1);
      return finish(0.24, 1);
    case PART.black:
      cover([0.018, 0.018, 0.018], 1);
      return finish(0.5);
    case PART.alloy:
      cover([0.3, 0.3, 0.31], 1);
      return finish(0.42, 0.9);
    case PART.engine:
      cover([0.03, 0.03, 0.032], 1);
      return finish(0.5, 0.4);
    case PART.exhaust: {
      const end = smooth(-0.38, -0.66, x);
      cover([mix(0.34, 0.46, end), mix(0.28, 0.42, end), mix(0.26, 0.38, end)], 1);
      return finish(0.27, 1);
    }
    case PART.seat:
      cover(BLACK_TRIM, 1);
      return finish(0.8, 0, 0, 0.4);
    case PART.suit:
      return suit(p, x, y, z);
    case PART.helmet:
      return helmet(p, x, y, z);
    case PART.glove:
      cover(PAINTS[livery.gloves], 1);
      return finish(0.6, 0, 0, 0.3);
    case PART.boot:
      cover(PAINTS[livery.boots], 1);
      return finish(0.42, 0, 0.15, 0.15);
    case PART.slider:
      cover(PAINTS[livery.suitAccent], 1);
      return finish(0.55);
  }
}

/** Projection, shadow map and the picture of one bike, averaged over sub-frames so that edges are smooth and wheels turn. */
import { type Light, radiance, shade } from './light.js';
import { clamp, cos, cross, dot, sin, subtract, unit, type Vector } from './maths.js';
import type { Model } from './model.js';
import { noise3 } from './noise.js';
import { type Paints, paint, surface } from './paint.js';
import { PART, type Part } from './parts.js';
import { FRONT_AXLE, FRONT_RADIUS, REAR_AXLE, REAR_RADIUS } from './shapes.js';

export interface Camera {
  readonly position: Vector;
  readonly right: Vector;
  readonly up: Vector;
  readonly forward: Vector;
  /** Focal length in pixels. */
  readonly focalPx: number;
  readonly centreX: number;
  readonly centreY: number;
  readonly width: number;
  readonly height: number;
}

/** Where a bike is and how it moves. The track runs along x; z is the rider's right. */
export interface Place {
  readonly x: number;
  readonly z: number;
  /** Radians, positive to the right. */
  readonly lean: number;
  readonly yaw: number;
  /** Wheel angle in the middle of the exposure and how far it turns during it, radians. */
  readonly spin: number;
  readonly spinDuring: number;
}

/** Row-major 3 × 3 and a shift. */
interface Motion {
  readonly m: readonly number[];
  readonly shift: Vector;
}

const times = (a: readonly number[], b: readonly number[]): number[] => {
  const out: number[] = [];
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) out.push(a[i * 3]! * b[j]! + a[i * 3 + 1]! * b[3 + j]! + a[i * 3 + 2]! * b[6 + j]!);
  return out;
};
const apply = (m: readonly number[], v: Vector): Vector => [
  m[0]! * v[0] + m[1]! * v[1] + m[2]! * v[2],
  m[3]! * v[0] + m[4]! * v[1] + m[5]! * v[2],
  m[6]! * v[0] + m[7]! * v[1] + m[8]! * v[2],
];
const turnX = (a: number): number[] => [1, 0, 0, 0, cos(a), -sin(a), 0, sin(a), cos(a)];
const turnY = (a: number): number[] => [cos(a), 0, sin(a), 0, 1, 0, -sin(a), 0, cos(a)];
const turnZ = (a: number): number[] => [cos(a), -sin(a), 0, sin(a), cos(a), 0, 0, 0, 1];

/** Motions of body, front and rear wheel; `when` runs −0.5…0.5 over the exposure. */
function motionsOf(place: Place, lift: number, when: number): readonly Motion[] {
  const body = times(turnY(place.yaw), turnX(place.lean));
  const shift: Vector = [place.x, lift, place.z];
  const wheel = (axle: Vector, radius: number): Motion => {
    const turn = turnZ(-(place.spin + place.spinDuring * when) * (FRONT_RADIUS / radius));
    const m = times(body, turn);
    const offset = apply(body, subtract(axle, apply(turn, axle)));
    return { m, shift: [shift[0] + offset[0], shift[1] + offset[1], shift[2] + offset[2]] };
  };
  return [{ m: body, shift }, wheel(FRONT_AXLE, FRONT_RADIUS), wheel(REAR_AXLE, REAR_RADIUS)];
}

/** How far the bike must be raised so that its lowest point touches the ground. */
export function liftOf(model: Model, place: Place): number {
  const [{ m }] = motionsOf(place, 0, 0) as [Motion];
  let lowest = 1e9;
  const p = model.positions;
  for (let i = 0, v = 0; i < p.length; i += 3, v++) {
    if (model.vertexGroups[v] === 0) continue;
    lowest = Math.min(lowest, m[3]! * p[i]! + m[4]! * p[i + 1]! + m[5]! * p[i + 2]!);
  }
  return -lowest;
}

interface View {
  readonly position: Vector;
  readonly right: Vector;
  readonly up: Vector;
  readonly forward: Vector;
  readonly focalPx: number;
  readonly centreX: number;
  readonly centreY: number;
  readonly isParallel: boolean;
}

/** Screen x, screen y and depth per vertex into `out`. */
function project(model: Model, motions: readonly Motion[], view: View, out: Float32Array): void {
  const rows = motions.map(({ m, shift }) => {
    const row = (a: Vector): number[] => [
      a[0] * m[0]! + a[1] * m[3]! + a[2] * m[6]!,
      a[0] * m[1]! + a[1] * m[4]! + a[2] * m[7]!,
      a[0] * m[2]! + a[1] * m[5]! + a[2] * m[8]!,
      dot(a, subtract(shift, view.position)),
    ];
    return [...row(view.right), ...row(view.up), ...row(view.forward)];
  });
  const p = model.positions;
  for (let i = 0, v = 0; i < p.length; i += 3, v++) {
    const a = rows[model.vertexGroups[v]!]!;
    const x = p[i]!;
    const y = p[i + 1]!;
    const z = p[i + 2]!;
    const depth = a[8]! * x + a[9]! * y + a[10]! * z + a[11]!;
    const k = view.isParallel ? view.focalPx : view.focalPx / depth;
    out[i] = view.centreX + k * (a[0]! * x + a[1]! * y + a[2]! * z + a[3]!);
    out[i + 1] = view.centreY - k * (a[4]! * x + a[5]! * y + a[6]! * z + a[7]!);
    out[i + 2] = depth;
  }
}

interface Raster {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly top: number;
  readonly depth: Float32Array;
  /** Triangle seen at each pixel, −1 for none. */
  readonly seen: Int32Array | null;
}

function rasterise(model: Model, screen: Float32Array, to: Raster, isScreenSolid: boolean, dropBacks: boolean): void {
  const { triangles, parts } = model;
  for (let t = 0; t < parts.length; t++) {
    const isGlass = parts[t] === PART.screen;
    if (isGlass && !isScreenSolid) continue;
    const a = triangles[t * 3]! * 3;
    const b = triangles[t * 3 + 1]! * 3;
    const c = triangles[t * 3 + 2]! * 3;
    const x0 = screen[a]! - to.left;
    const y0 = screen[a + 1]! - to.top;
    const x1 = screen[b]! - to.left;
    const y1 = screen[b + 1]! - to.top;
    const x2 = screen[c]! - to.left;
    const y2 = screen[c + 1]! - to.top;
    const area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
    if (area === 0 || (dropBacks && area > 0 && !isGlass)) continue;
    const firstX = Math.max(0, Math.ceil(Math.min(x0, x1, x2) - 0.5));
    const lastX = Math.min(to.width - 1, Math.floor(Math.max(x0, x1, x2) - 0.5));
    const firstY = Math.max(0, Math.ceil(Math.min(y0, y1, y2) - 0.5));
    const lastY = Math.min(to.height - 1, Math.floor(Math.max(y0, y1, y2) - 0.5));
    if (firstX > lastX || firstY > lastY) continue;
    const inverse = 1 / area;
    for (let y = firstY; y <= lastY; y++) {
      const py = y + 0.5;
      for (let x = firstX, o = y * to.width + firstX; x <= lastX; x++, o++) {
        const px = x + 0.5;
        const w0 = ((x1 - px) * (y2 - py) - (x2 - px) * (y1 - py)) * inverse;
        const w1 = ((x2 - px) * (y0 - py) - (x0 - px) * (y2 - py)) * inverse;
        const w2 = 1 - w0 - w1;
        if (w0 < 0 || w1 < 0 || w2 < 0) continue;
        const depth = w0 * screen[a + 2]! + w1 * screen[b + 2]! + w2 * screen[c + 2]!;
        if (depth >= to.depth[o]!) continue;
        to.depth[o] = depth;
        if (to.seen) to.seen[o] = t;
      }
    }
  }
}

const SHADOW_PX = 640;
const SHADOW_HALF_M = 1.4;
export interface Shadow {
  readonly depth: Float32Array;
  readonly view: View;
}

export function shadowOf(model: Model, place: Place, lift: number, light: Light): Shadow {
  const forward: Vector = [-light.sun[0], -light.sun[1], -light.sun[2]];
  const right = unit(cross(forward, [0, 1, 0]));
  const view: View = {
    position: [place.x, 0.6, place.z],
    right,
    up: cross(right, forward),
    forward,
    focalPx: SHADOW_PX / (2 * SHADOW_HALF_M),
    centreX: SHADOW_PX / 2,
    centreY: SHADOW_PX / 2,
    isParallel: true,
  };
  const screen = new Float32Array(model.positions.length);
  project(model, motionsOf(place, lift, 0), view, screen);
  const depth = new Float32Array(SHADOW_PX * SHADOW_PX).fill(1e9);
  rasterise(model, screen, { width: SHADOW_PX, height: SHADOW_PX, left: 0, top: 0, depth, seen: null }, false, false);
  return { depth, view };
}

/** Share of the sun that reaches a point, 0–1, soft over `blur` shadow pixels. */
export function sunAt({ depth, view }: Shadow, x: number, y: number, z: number, bias: number, blur: number): number {
  const dx = x - view.position[0];
  const dy = y - view.position[1];
  const dz = z - view.position[2];
  const u = view.centreX + view.focalPx * (dx * view.right[0] + dy * view.right[1] + dz * view.right[2]);
  const v = view.centreY - view.focalPx * (dx * view.up[0] + dy * view.up[1] + dz * view.up[2]);
  const w = dx * view.forward[0] + dy * view.forward[1] + dz * view.forward[2] - bias;
  let lit = 0;
  for (let j = -1; j <= 1; j++)
    for (let i = -1; i <= 1; i++) {
      const px = Math.floor(u + i * blur);
      const py = Math.floor(v + j * blur);
      if (px < 0 || py < 0 || px >= SHADOW_PX || py >= SHADOW_PX || depth[py * SHADOW_PX + px]! > w) lit++;
    }
  return lit / 9;
}

/** A bike's picture. */
export interface Layer {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** Linear RGB times coverage, and coverage, four numbers a pixel. */
  readonly data: Float32Array;
  /** Coverage by leathers, gloves and boots, and by the helmet, in focus whatever the picture's blur. */
  readonly clothes: Float32Array;
  readonly helmet: Float32Array;
  /** Only where it was asked for. */
  readonly surfaces?: Surfaces;
}

const MARGIN_PX = 40;
const BRIGHTEST = 20;

/** What a point shows apart from light, as bytes row by row: for pictures that are painted anew (`tools/vision/bike`). */
export interface Surfaces {
  /** Square roots of the paint's linear red, green and blue. */
  readonly paint: readonly [Uint8Array, Uint8Array, Uint8Array];
  /** Square root of what is mirrored, as a share of what white paint would throw back there. */
  readonly gloss: Uint8Array;
  /** In the bike's own space: x −1.2…1.2 m, y 0…1.7 m, z −0.7…0.7 m. */
  readonly place: readonly [Uint8Array, Uint8Array, Uint8Array];
  /** The part plus one, 0 for none. */
  readonly part: Uint8Array;
}

export interface BikePicture {
  readonly model: Model;
  readonly place: Place;
  readonly camera: Camera;
  readonly light: Light;
  readonly paints: Paints;
  readonly shadow: Shadow;
  readonly lift: number;
  readonly subFrames: number;
  readonly withSurfaces?: boolean;
}

export function pictureOfBike(bike: BikePicture): Layer | null {
  const { model, camera } = bike;
  const view: View = { ...camera, isParallel: false };
  const screen = new Float32Array(model.positions.length);
  project(model, motionsOf(bike.place, bike.lift, 0), view, screen);
  const bounds = boundsOf(screen, camera);
  if (!bounds) return null;
  const { left, top, width, height } = bounds;
  const data = new Float32Array(width * height * 4);
  const depth = new Float32Array(width * height);
  const clothes = new Float32Array(width * height);
  const helmet = new Float32Array(width * height);
  const seen = new Int32Array(width * height);
  const surfaces = bike.withSurfaces ? surfacesOf(width * height) : null;
  for (let k = 0; k < bike.subFrames; k++) {
    // Low-discrepancy sequences (plastic number, golden ratio) spread the samples over pixel and exposure.
    const jitterX = ((k * 0.7548776662 + 0.37) % 1) - 0.5;
    const jitterY = ((k * 0.569840291 + 0.71) % 1) - 0.5;
    const motions = motionsOf(bike.place, bike.lift, ((k * 0.6180339887 + 0.2) % 1) - 0.5);
    project(model, motions, view, screen);
    depth.fill(1e9);
    seen.fill(-1);
    const raster: Raster = { width, height, left: left + jitterX, top: top + jitterY, depth, seen };
    rasterise(model, screen, raster, k % 3 !== 1, true);
    shadeSeen(bike, motions, screen, raster, data, k === 0 ? surfaces : null);
    for (let o = 0; o < seen.length; o++) {
      const part = seen[o]! < 0 ? PART.fairing : model.parts[seen[o]!]!;
      if (part === PART.helmet) helmet[o]! += 1 / bike.subFrames;
      else if (part >= PART.suit) clothes[o]! += 1 / bike.subFrames;
    }
  }
  for (let i = 0; i < data.length; i++) data[i]! /= bike.subFrames;
  return { left, top, width, height, data, clothes, helmet, ...(surfaces && { surfaces }) };
}

export const surfacesOf = (size: number): Surfaces => {
  const plane = (): Uint8Array => new Uint8Array(size);
  return {
    paint: [plane(), plane(), plane()],
    gloss: plane(),
    place: [plane(), plane(), plane()],
    part: plane(),
  };
};

function boundsOf(
  screen: Float32Array,
  camera: Camera,
): { left: number; top: number; width: number; height: number } | null {
  let x0 = 1e9;
  let y0 = 1e9;
  let x1 = -1e9;
  let y1 = -1e9;
  for (let i = 0; i < screen.length; i += 3) {
    if (screen[i + 2]! < 0.3) return null;
    x0 = Math.min(x0, screen[i]!);
    x1 = Math.max(x1, screen[i]!);
    y0 = Math.min(y0, screen[i + 1]!);
    y1 = Math.max(y1, screen[i + 1]!);
  }
  const left = Math.max(-MARGIN_PX, Math.floor(x0) - 2);
  const top = Math.max(-MARGIN_PX, Math.floor(y0) - 2);
  const width = Math.min(camera.width + MARGIN_PX, Math.ceil(x1) + 3) - left;
  const height = Math.min(camera.height + MARGIN_PX, Math.ceil(y1) + 3) - top;
  return width > 0 && height > 0 ? { left, top, width, height } : null;
}

function shadeSeen(
  bike: BikePicture,
  motions: readonly Motion[],
  screen: Float32Array,
  raster: Raster,
  data: Float32Array,
  surfaces: Surfaces | null,
): void {
  const { model, camera, light, shadow } = bike;
  const { positions: p, normals: n, coordinates, openness, triangles } = model;
  const seen = raster.seen!;
  for (let py = 0, o = 0; py < raster.height; py++)
    for (let px = 0; px < raster.width; px++, o++) {
      const t = seen[o]!;
      if (t < 0) continue;
      const va = triangles[t * 3]!;
      const vb = triangles[t * 3 + 1]!;
      const vc = triangles[t * 3 + 2]!;
      const a = va * 3;
      const b = vb * 3;
      const c = vc * 3;
      const sx = px + 0.5 + raster.left;
      const sy = py + 0.5 + raster.top;
      const x0 = screen[a]! - sx;
      const y0 = screen[a + 1]! - sy;
      const x1 = screen[b]! - sx;
      const y1 = screen[b + 1]! - sy;
      const x2 = screen[c]! - sx;
      const y2 = screen[c + 1]! - sy;
      const inverse = 1 / ((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0));
      const w0 = (x1 * y2 - x2 * y1) * inverse;
      const w1 = (x2 * y0 - x0 * y2) * inverse;
      const w2 = 1 - w0 - w1;
      const bx = w0 * p[a]! + w1 * p[b]! + w2 * p[c]!;
      const by = w0 * p[a + 1]! + w1 * p[b + 1]! + w2 * p[c + 1]!;
      const bz = w0 * p[a + 2]! + w1 * p[b + 2]! + w2 * p[c + 2]!;
      let nx = w0 * n[a]! + w1 * n[b]! + w2 * n[c]!;
      let ny = w0 * n[a + 1]! + w1 * n[b + 1]! + w2 * n[c + 1]!;
      let nz = w0 * n[a + 2]! + w1 * n[b + 2]! + w2 * n[c + 2]!;
      const open = clamp(w0 * openness[va]! + w1 * openness[vb]! + w2 * openness[vc]!);
      const u = w0 * coordinates[va * 2]! + w1 * coordinates[vb * 2]! + w2 * coordinates[vc * 2]!;
      const v = w0 * coordinates[va * 2 + 1]! + w1 * coordinates[vb * 2 + 1]! + w2 * coordinates[vc * 2 + 1]!;
      const part = model.parts[t]! as Part;
      paint(part, bike.paints, bx, by, bz, nx, ny, nz, u, v);
      if (surface.creases > 0) {
        const k = surface.creases * 1.6;
        const X = bx * 30;
        const Y = by * 30;
        const Z = bz * 30;
        const here = noise3(X, Y * 1.6, Z);
        nx -= (noise3(X + 0.3, Y * 1.6, Z) - here) * k * 3;
        ny -= (noise3(X, Y * 1.6 + 0.3, Z) - here) * k * 3;
        nz -= (noise3(X, Y * 1.6, Z + 0.3) - here) * k * 3;
      }
      const { m, shift } = motions[model.groups[t]!]!;
      const wx = m[0]! * bx + m[1]! * by + m[2]! * bz + shift[0];
      const wy = m[3]! * bx + m[4]! * by + m[5]! * bz + shift[1];
      const wz = m[6]! * bx + m[7]! * by + m[8]! * bz + shift[2];
      let Nx = m[0]! * nx + m[1]! * ny + m[2]! * nz;
      let Ny = m[3]! * nx + m[4]! * ny + m[5]! * nz;
      let Nz = m[6]! * nx + m[7]! * ny + m[8]! * nz;
      let vx = camera.position[0] - wx;
      let vy = camera.position[1] - wy;
      let vz = camera.position[2] - wz;
      const vl = 1 / Math.sqrt(vx * vx + vy * vy + vz * vz);
      vx *= vl;
      vy *= vl;
      vz *= vl;
      const sign = part === PART.screen && Nx * vx + Ny * vy + Nz * vz < 0 ? -1 : 1;
      const nl = sign / (Math.sqrt(Nx * Nx + Ny * Ny + Nz * Nz) || 1);
      Nx *= nl;
      Ny *= nl;
      Nz *= nl;
      const isLit = Nx * light.sun[0] + Ny * light.sun[1] + Nz * light.sun[2] > 0;
      const sun = isLit ? sunAt(shadow, wx + Nx * 0.014, wy + Ny * 0.014, wz + Nz * 0.014, 0.014, 1.1) : 0;
      shade(light, wy, Nx, Ny, Nz, vx, vy, vz, sun, open);
      const q = o * 4;
      data[q]! += Math.min(radiance.r, BRIGHTEST);
      data[q + 1]! += Math.min(radiance.g, BRIGHTEST);
      data[q + 2]! += Math.min(radiance.b, BRIGHTEST);
      data[q + 3]! += 1;
      if (!surfaces) continue;
      const painted = [surface.r, surface.g, surface.b] as const;
      const whole = radiance.g;
      surface.r = 0;
      surface.g = 0;
      surface.b = 0;
      shade(light, wy, Nx, Ny, Nz, vx, vy, vz, sun, open);
      const byte = (value: number): number => Math.round(255 * clamp(value));
      for (let k = 0; k < 3; k++) surfaces.paint[k]![o] = byte(Math.sqrt(painted[k]!));
      const thrown = Math.max(whole - radiance.g, 1e-6) / Math.max(painted[1], 1e-3);
      surfaces.gloss[o] = byte(Math.sqrt(radiance.g / Math.max(thrown, 1e-3)));
      surfaces.place[0][o] = byte((bx + 1.2) / 2.4);
      surfaces.place[1][o] = byte(by / 1.7);
      surfaces.place[2][o] = byte((bz + 0.7) / 1.4);
      surfaces.part[o] = part + 1;
    }
}

/** The world behind the bike: rays from the camera to ground, walls and sky. The bend's centre lies beside the bike. */
import type { Light } from './light.js';
import { atan2, clamp, exp, hypot, mix, smooth, type Vector } from './maths.js';
import { cloudNoise, hash2 } from './noise.js';
import type { Camera } from './raster.js';
import { groundAt, type Scene, seen, type Wall, wallAt } from './scene.js';

export interface Background {
  readonly width: number;
  readonly height: number;
  /** Linear RGB. */
  readonly colours: Float32Array;
  /** Metres from the camera; 1e5 for the sky. */
  readonly distances: Float32Array;
}

export interface BackgroundOptions {
  /** Pixels beyond the picture on each side, so that a blur has something to draw in. */
  readonly marginX: number;
  readonly marginY: number;
  /** Pixels are this much coarser across: pointless detail is not drawn where the pan blurs it away. */
  readonly coarser: number;
  /** How far along the track the bike is, metres. */
  readonly alongM: number;
}

interface Hit {
  readonly distance: number;
  readonly wall: Wall;
}

const HAZE_M = 1600;
const FARTHEST_M = 4000;

export function backgroundOf(scene: Scene, camera: Camera, light: Light, options: BackgroundOptions): Background {
  const width = Math.ceil((camera.width + 2 * options.marginX) / options.coarser);
  const height = camera.height + 2 * options.marginY;
  const colours = new Float32Array(width * height * 3);
  const distances = new Float32Array(width * height);
  const walls = [...scene.left.walls.map((w) => ({ ...w, q: -w.q })), ...scene.right.walls];
  const ray = rayThrough(camera, options);
  for (let y = 0, o = 0; y < height; y++)
    for (let x = 0; x < width; x++, o++) {
      const look = ray(x + 0.5 + (hash2(x, y) - 0.5) * 0.9, y + 0.5 + (hash2(x + 7919, y) - 0.5) * 0.9);
      distances[o] = trace(scene, camera.position, look, walls, light, camera.focalPx, options.alongM);
      colours[o * 3] = traced.r;
      colours[o * 3 + 1] = traced.g;
      colours[o * 3 + 2] = traced.b;
    }
  return { width, height, colours, distances };
}

export const rayThrough =
  (camera: Camera, options: Pick<BackgroundOptions, 'marginX' | 'marginY' | 'coarser'>) =>
  (x: number, y: number): Vector => {
    const px = (x * options.coarser - options.marginX - camera.centreX) / camera.focalPx;
    const py = (camera.centreY - (y - options.marginY)) / camera.focalPx;
    const dx = camera.forward[0] + camera.right[0] * px + camera.up[0] * py;
    const dy = camera.forward[1] + camera.right[1] * px + camera.up[1] * py;
    const dz = camera.forward[2] + camera.right[2] * px + camera.up[2] * py;
    const l = 1 / Math.sqrt(dx * dx + dy * dy + dz * dz);
    return [dx * l, dy * l, dz * l];
  };

/*
 * The functions below run for every pixel. None makes a closure of its own: a function built a million times costs more than
 * what it computes.
 */
const traced = { r: 0, g: 0, b: 0 };
const gather = (c: 0 | 1 | 2, value: number): void => {
  if (c === 0) traced.r += value;
  else if (c === 1) traced.g += value;
  else traced.b += value;
};
const seenColour = (c: 0 | 1 | 2): number => (c === 0 ? seen.r : c === 1 ? seen.g : seen.b);
/** Far things fade into the horizon's light. */
const hazed = (lit: number, horizon: number, clear: number): number => lit * clear + horizon * 0.8 * (1 - clear);
const alongBend = (radius: number, x: number, z: number): number => Math.abs(radius) * atan2(x, radius > 0 ? -z : z);

/** Adds what a ray meets, nearest first, into `traced`; returns the distance of the first solid thing. */
function trace(
  scene: Scene,
  eye: Vector,
  look: Vector,
  walls: readonly Wall[],
  light: Light,
  focalPx: number,
  alongM: number,
): number {
  traced.r = traced.g = traced.b = 0;
  const toGround = look[1] < -1e-5 ? -eye[1] / look[1] : 1e9;
  const sign = scene.radius > 0 ? 1 : -1;
  let open = 1;
  let first = 1e5;
  for (const { distance, wall } of hitsOf(scene, eye, look, walls, toGround)) {
    const x = eye[0] + look[0] * distance;
    const z = eye[2] + look[2] * distance - scene.radius;
    wallAt(wall, alongBend(scene.radius, x, z) + alongM, eye[1] + look[1] * distance, distance / focalPx);
    if (seen.a <= 0) continue;
    lightWall(light, look, x, z, wall, distance, open * seen.a);
    if (first > 1e4 && seen.a > 0.5) first = distance;
    open *= 1 - seen.a;
    if (open < 0.02) return first;
  }
  if (toGround >= FARTHEST_M) {
    lightSky(light, look, scene.seed, open);
    return first;
  }
  const x = eye[0] + look[0] * toGround;
  const z = eye[2] + look[2] * toGround - scene.radius;
  const size = toGround / focalPx;
  groundAt(
    scene,
    sign * (Math.abs(scene.radius) - hypot(x, z)),
    alongBend(scene.radius, x, z) + alongM,
    size,
    (size / Math.max(0.02, -look[1])) * 0.5,
  );
  lightGround(light, look, toGround, open);
  return Math.min(first, toGround);
}

const nearerFirst = (p: Hit, q: Hit): number => p.distance - q.distance;

/** Walls are cylinders about the bend's centre. */
function hitsOf(scene: Scene, eye: Vector, look: Vector, walls: readonly Wall[], toGround: number): Hit[] {
  const oz = eye[2] - scene.radius;
  const a = look[0] * look[0] + look[2] * look[2];
  const b = eye[0] * look[0] + oz * look[2];
  const toBike = hypot(eye[0], eye[1], eye[2]);
  const hits: Hit[] = [];
  for (const wall of walls) {
    const radius = Math.abs(scene.radius) - (scene.radius > 0 ? 1 : -1) * wall.q;
    const under = b * b - a * (eye[0] * eye[0] + oz * oz - radius * radius);
    if (under < 0) continue;
    const root = Math.sqrt(under);
    for (let side = -1; side <= 1; side += 2) {
      const distance = (side * root - b) / a;
      if (distance < toBike * 0.8 || distance > toGround || distance > 3000) continue;
      const height = eye[1] + look[1] * distance;
      if (height >= wall.bottom && height <= wall.top) hits.push({ distance, wall });
    }
  }
  return hits.length > 1 ? hits.sort(nearerFirst) : hits;
}

function lightWall(
  light: Light,
  look: Vector,
  x: number,
  z: number,
  wall: Wall,
  distance: number,
  share: number,
): void {
  const l = hypot(x, z) || 1;
  const facing = (x * look[0] + z * look[2]) / l > 0 ? -1 : 1;
  const isRough = wall.kind === 'trees' || wall.kind === 'dune';
  const sun = Math.max(0, (facing * (x * light.sun[0] + z * light.sun[2])) / l) * 0.75 + (isRough ? 0.35 : 0.08);
  const clear = exp(-distance / HAZE_M);
  for (let c = 0 as 0 | 1 | 2; c < 3; c++) {
    const onto = light.sunColour[c] * sun + 0.55 * mix(light.zenith[c], light.horizon[c], 0.5) + 0.25 * light.ground[c];
    gather(c, share * hazed(seenColour(c) * onto, light.horizon[c], clear));
  }
}

function lightGround(light: Light, look: Vector, distance: number, share: number): void {
  const clear = exp(-distance / HAZE_M);
  // Seen at a grazing angle, tarmac and wet sand mirror the low sky.
  const grazing = (1 + look[1]) * (1 + look[1]);
  const fourth = grazing * grazing * grazing * grazing;
  const sheen = 0.35 * fourth * fourth * fourth;
  for (let c = 0 as 0 | 1 | 2; c < 3; c++) {
    const onto = light.sunColour[c] * light.sun[1] + mix(light.zenith[c], light.horizon[c], 0.4);
    gather(
      c,
      share * hazed(seenColour(c) * onto * (1 - sheen) + sheen * light.horizon[c] * 0.35, light.horizon[c], clear),
    );
  }
}

function lightSky(light: Light, look: Vector, seed: number, share: number): void {
  const up = clamp(look[1]);
  const low = (1 - up) * (1 - up) * (1 - up) * (1 - up);
  const spread = 1 / (Math.max(look[1], 0) + 0.16);
  const noise = cloudNoise(look[0] * spread * 1.7 + 3.1 + seed, look[2] * spread * 1.7 + 9.7, 4);
  const cloud = 0.85 * smooth(0.66 - light.cloud * 0.4, 0.95 - light.cloud * 0.35, noise);
  const bright = ((light.horizon[0] + light.horizon[1] + light.horizon[2]) / 3) * 1.25;
  for (let c = 0 as 0 | 1 | 2; c < 3; c++)
    gather(c, share * mix(mix(light.zenith[c], light.horizon[c], low), bright, cloud));
}

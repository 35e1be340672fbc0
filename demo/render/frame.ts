/** One frame: camera and pan, background, shadows on the ground, bikes from far to near, then the tones of a picture. */
import { type Background, backgroundOf, rayThrough } from './background.js';
import { gaussian, softened, streaked } from './blur.js';
import { type InFront, standInFront } from './inFront.js';
import type { Light } from './light.js';
import type { Livery } from './livery.js';
import { clamp, cos, cross, dot, exp, hypot, mix, radians, sin, subtract, unit, type Vector } from './maths.js';
import { type Model, modelOf } from './model.js';
import { paintsOf } from './paint.js';
import {
  type Camera,
  type Layer,
  liftOf,
  type Place,
  pictureOfBike,
  type Shadow,
  type Surfaces,
  shadowOf,
  sunAt,
  surfacesOf,
} from './raster.js';
import type { Pose, PoseName } from './rider.js';
import type { Scene } from './scene.js';
import { SHAPES, type ShapeName } from './shapes.js';
import { tonesOf } from './tones.js';

export interface BikeInShot {
  readonly shape: ShapeName;
  readonly pose: PoseName | Pose;
  readonly livery: Livery;
  /** Metres ahead of the middle of the shot along the track, and to the right of the line. */
  readonly ahead: number;
  readonly aside: number;
  readonly leanDeg: number;
  /** Another build than the three drawn ones; not given, the shape as it is. */
  readonly reshape?: (model: Model) => Model;
}

export interface Shot {
  readonly width: number;
  readonly height: number;
  readonly scene: Scene;
  readonly light: Light;
  /** Camera as seen from the bike: 0 straight ahead, 90 to its right, 180 behind. */
  readonly azimuthDeg: number;
  readonly elevationDeg: number;
  readonly distanceM: number;
  /** Share of the picture's width that 2.05 m, a bike's length, takes. */
  readonly fill: number;
  /** Where the subject lies from the middle, in shares of width and height. */
  readonly offX: number;
  readonly offY: number;
  readonly rollDeg: number;
  readonly speed: number;
  readonly shutterS: number;
  readonly fNumber: number;
  readonly bikes: readonly BikeInShot[];
  /** Blur radius of a missed focus, pixels. */
  readonly defocusPx: number;
  /** Movement of a missed pan, pixels. */
  readonly shakePx: readonly [number, number];
  readonly alongM: number;
  readonly seed: number;
  readonly exposureEv: number;
  /** The bikes' own softness where the focus fell a little before or behind them: sigma in pixels, of any fineness. */
  readonly softSigmaPx?: number;
  readonly inFront?: InFront;
  /** Where the camera points when there is no bike. */
  readonly aim?: Vector;
}

export interface Rendered {
  /** 8-bit sRGB, three bytes a pixel. */
  readonly pixels: Uint8Array;
  /** Per bike in the shot's order: `[left, top, width, height]` in 0–1, or null where it is outside the picture. */
  readonly boxes: readonly (readonly [number, number, number, number] | null)[];
  /** Per bike in the shot's order: what can be seen of it; only where it was asked for. */
  readonly visible?: readonly (Visible | null)[];
}

/** How much of each pixel shows a bike with its rider, 0–1, and shares of those parts alone; row by row. */
export interface Visible {
  readonly whole: Float32Array;
  readonly clothes: Float32Array;
  readonly helmet: Float32Array;
  readonly surfaces: Surfaces;
}

export const BIKE_LENGTH_M = 2.05;
const SENSOR_WIDTH_MM = 36;
export const focalLengthMm = (shot: Pick<Shot, 'fill' | 'distanceM'>): number =>
  (SENSOR_WIDTH_MM * shot.fill * shot.distanceM) / BIKE_LENGTH_M;

export interface RenderOptions {
  readonly withVisible?: boolean;
  /** Moments of the exposure that a bike is drawn at; fewer are quicker and coarser at its edges. */
  readonly subFrames?: number;
}

export function render(shot: Shot, options: RenderOptions = {}): Rendered {
  const camera = cameraOf(shot);
  const move = panOf(shot, camera);
  const picture = behind(shot, camera, move);
  const boxes: (readonly [number, number, number, number] | null)[] = shot.bikes.map(() => null);
  const visible: (Visible | null)[] = shot.bikes.map(() => null);
  const farFirst = shot.bikes
    .map((bike, index) => ({ bike, index, place: placeOf(shot, bike) }))
    .sort((a, b) => distanceTo(camera, b.place) - distanceTo(camera, a.place));
  for (const { bike, index, place } of farFirst) {
    const layer = drawBike(shot, camera, bike, place, picture, options);
    if (!layer) continue;
    boxes[index] = compose(picture, layer, shot.width, shot.height);
    if (options.withVisible) visible[index] = showInFront(visible, layer, shot.width * shot.height, shot.width);
  }
  if (shot.inFront) standInFront(picture, shot.width, shot.height, skyLightOf(shot.light), shot.inFront);
  const pixels = tonesOf(picture, shot.width, shot.height, shot.exposureEv, shot.seed);
  return options.withVisible ? { pixels, boxes, visible } : { pixels, boxes };
}

/** What a bike shows of itself; those already drawn lose what it covers. */
function showInFront(behind: readonly (Visible | null)[], layer: Layer, size: number, width: number): Visible {
  const own = {
    whole: new Float32Array(size),
    clothes: new Float32Array(size),
    helmet: new Float32Array(size),
    surfaces: surfacesOf(size),
  };
  const planes = (of: Surfaces): readonly Uint8Array[] => [...of.paint, of.gloss, ...of.place, of.part];
  const [to, of] = [planes(own.surfaces), planes(layer.surfaces!)];
  for (let ly = 0, from = 0; ly < layer.height; ly++)
    for (let lx = 0; lx < layer.width; lx++, from++) {
      const [x, y] = [lx + layer.left, ly + layer.top];
      if (x < 0 || x >= width || y < 0 || y >= size / width) continue;
      const at = y * width + x;
      own.whole[at] = layer.data[from * 4 + 3]!;
      own.clothes[at] = layer.clothes[from]!;
      own.helmet[at] = layer.helmet[from]!;
      for (let plane = 0; plane < to.length; plane++) to[plane]![at] = of[plane]![from]!;
      for (const one of behind)
        if (one) for (const share of [one.whole, one.clothes, one.helmet]) share[at]! *= 1 - own.whole[at]!;
    }
  return own;
}

function cameraOf(shot: Shot): Camera {
  const a = radians(shot.azimuthDeg);
  const e = radians(shot.elevationDeg);
  const lead = shot.bikes[0];
  const lean = radians(lead?.leanDeg ?? 0);
  const aim: Vector = shot.aim ?? [0.02, 0.6 * cos(lean * 0.8), (lead?.aside ?? 0) + 0.5 * sin(lean)];
  const position: Vector = [
    shot.distanceM * cos(a) * cos(e),
    Math.max(0.35, 0.5 + shot.distanceM * sin(e)),
    shot.distanceM * sin(a) * cos(e),
  ];
  const forward = unit(subtract(aim, position));
  const level = unit(cross(forward, [0, 1, 0]));
  const plumb = cross(level, forward);
  const c = cos(radians(shot.rollDeg));
  const s = sin(radians(shot.rollDeg));
  const tilt = (p: Vector, q: Vector, k: number): Vector => [
    p[0] * c + q[0] * k,
    p[1] * c + q[1] * k,
    p[2] * c + q[2] * k,
  ];
  return {
    position,
    forward,
    right: tilt(level, plumb, s),
    up: tilt(plumb, level, -s),
    focalPx: (Math.max(shot.width, shot.height) * shot.fill * shot.distanceM) / BIKE_LENGTH_M,
    centreX: shot.width * (0.5 + shot.offX),
    centreY: shot.height * (0.5 + shot.offY),
    width: shot.width,
    height: shot.height,
  };
}

/** How far the world moves across the picture during the exposure, pixels. */
function panOf(shot: Shot, camera: Camera): readonly [number, number] {
  if (shot.bikes.length === 0) return shot.shakePx;
  const k = (shot.speed * shot.shutterS * camera.focalPx) / shot.distanceM;
  return [
    dot([1, 0, 0], camera.right) * k + shot.shakePx[0] * 0.4,
    -dot([1, 0, 0], camera.up) * k + shot.shakePx[1] * 0.4,
  ];
}

/** Bikes ahead or behind follow the bend. */
function placeOf(shot: Shot, bike: BikeInShot): Place {
  const bend = bike.ahead / shot.scene.radius;
  return {
    x: bike.ahead,
    z: bike.aside + (bike.ahead * bend) / 2,
    lean: radians(bike.leanDeg),
    yaw: -bend,
    spin: shot.seed * 0.7,
    spinDuring: (shot.speed * shot.shutterS) / 0.31,
  };
}
const distanceTo = (camera: Camera, place: Place): number =>
  hypot(place.x - camera.position[0], camera.position[1], place.z - camera.position[2]);

/** Diameter of the blur of something infinitely far, pixels (thin lens). */
function blurAtInfinity(shot: Shot): number {
  const f = focalLengthMm(shot) / 1000;
  return ((f * f) / (shot.fNumber * (shot.distanceM - f)) / (SENSOR_WIDTH_MM / 1000)) * shot.width;
}

function behind(shot: Shot, camera: Camera, move: readonly [number, number]): Float32Array {
  const coarser = Math.abs(move[0]) > 12 ? 2 : 1;
  const marginX = Math.ceil(Math.abs(move[0]) / 2) + 8;
  const marginY = Math.ceil(Math.abs(move[1]) / 2) + 4;
  const world = backgroundOf(shot.scene, camera, shot.light, { marginX, marginY, coarser, alongM: shot.alongM });
  const focused = outOfFocus(shot, world, coarser);
  const streaks = streaked(focused, world.width, world.height, 3, move[0] / coarser, move[1]);
  // The streak is one-sided: half its length is taken back.
  const fromX = (marginX - move[0] / 2) / coarser - (coarser - 1) / (2 * coarser);
  const fromY = Math.round(marginY - move[1] / 2);
  const out = new Float32Array(shot.width * shot.height * 3);
  for (let y = 0, o = 0; y < shot.height; y++) {
    const row = Math.min(world.height - 1, Math.max(0, y + fromY)) * world.width;
    for (let x = 0; x < shot.width; x++) {
      const u = clamp(x / coarser + fromX, 0, world.width - 1.001);
      const i = Math.floor(u);
      const p = (row + i) * 3;
      for (let c = 0; c < 3; c++, o++) out[o] = mix(streaks[p + c]!, streaks[p + 3 + c]!, u - i);
    }
  }
  return out;
}

/** A lens never resolves single pixels: 1-2-1 both ways, which also quiets the one ray a pixel. */
function antialiased({ colours, width, height }: Background): Float32Array {
  const across = averagedAlong(colours, width, height, 3);
  return averagedAlong(across, width, height, width * 3);
}
function averagedAlong(source: Float32Array, width: number, height: number, step: number): Float32Array {
  const out = source.slice();
  for (let i = step; i < width * height * 3 - step; i++)
    out[i] = 0.25 * (source[i - step]! + source[i + step]!) + 0.5 * source[i]!;
  return out;
}

/** Each pixel mixes the two blurred versions nearest to its own circle of confusion. */
function outOfFocus(shot: Shot, world: Background, coarser: number): Float32Array {
  const infinity = blurAtInfinity(shot);
  const radii = [0, 1, 2.5, 6, 14];
  const levels = [antialiased(world)];
  const largest = infinity * 0.5 + shot.defocusPx * 0.5;
  // Each level blurs the one before it, so that a single pass suffices.
  for (let i = 1; i < radii.length && (i < 2 || radii[i - 1]! < largest); i++)
    levels.push(
      softened(levels[i - 1]!, world.width, world.height, 3, (radii[i]! * 0.7) / coarser, radii[i]! * 0.7, 1),
    );
  const out = new Float32Array(world.colours.length);
  for (let p = 0; p < world.distances.length; p++) {
    const away = Math.abs(1 - shot.distanceM / world.distances[p]!);
    const radius = Math.min(infinity * Math.min(away, 1) * 0.5 + shot.defocusPx * 0.5, 13.9);
    let i = 0;
    while (radius > radii[i + 1]!) i++;
    const t = (radius - radii[i]!) / (radii[i + 1]! - radii[i]!);
    for (let c = 0; c < 3; c++) out[p * 3 + c] = mix(levels[i]![p * 3 + c]!, levels[i + 1]![p * 3 + c]!, t);
  }
  return out;
}

const SUB_FRAMES = 7;
function drawBike(
  shot: Shot,
  camera: Camera,
  bike: BikeInShot,
  place: Place,
  picture: Float32Array,
  { withVisible: withSurfaces = false, subFrames = SUB_FRAMES }: RenderOptions,
): Layer | null {
  const drawn = modelOf(bike.shape, bike.pose);
  const model = bike.reshape?.(drawn) ?? drawn;
  const lift = liftOf(model, place);
  const shadow = shadowOf(model, place, lift, shot.light);
  darkenGround(shot, camera, place, shadow, picture);
  const paints = paintsOf(bike.livery, SHAPES[bike.shape], model.rider);
  const light = shot.light;
  const layer = pictureOfBike({
    model,
    place,
    camera,
    light,
    paints,
    shadow,
    lift,
    subFrames,
    withSurfaces,
  });
  if (!layer) return null;
  const ownFocus = blurAtInfinity(shot) * Math.abs(1 - shot.distanceM / distanceTo(camera, place)) * 0.5;
  const radius = Math.max(shot.defocusPx, ownFocus) * 0.6;
  let data = softened(layer.data, layer.width, layer.height, 4, radius, radius);
  if (shot.softSigmaPx) data = gaussian(data, layer.width, layer.height, 4, shot.softSigmaPx);
  if (hypot(...shot.shakePx) > 1) data = streaked(data, layer.width, layer.height, 4, shot.shakePx[0], shot.shakePx[1]);
  return { ...layer, data };
}

/** What falls on something upright, of the sun and of the sky. */
const skyLightOf = ({ sunColour, zenith, horizon }: Light): number =>
  0.35 * sunColour[1] + 0.5 * mix(zenith[1], horizon[1], 0.5);

function darkenGround(shot: Shot, camera: Camera, place: Place, shadow: Shadow, picture: Float32Array): void {
  const { light, width, height } = shot;
  const sky = mix(light.zenith[1], light.horizon[1], 0.4);
  const sun = light.sunColour[1] * light.sun[1];
  const ray = rayThrough(camera, { marginX: 0, marginY: 0, coarser: 1 });
  const underBody = sin(place.lean) * 0.3;
  const spread = 0.07 + 0.1 * Math.abs(sin(place.lean));
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const look = ray(x + 0.5, y + 0.5);
      if (look[1] > -1e-4) continue;
      const t = -camera.position[1] / look[1];
      const gx = camera.position[0] + look[0] * t - place.x;
      const gz = camera.position[2] + look[2] * t - place.z;
      if (Math.abs(gx) > 3 || Math.abs(gz) > 3) continue;
      const lit = sunAt(shadow, gx + place.x, 0, gz + place.z, 0, 1.4);
      const away = gz - underBody;
      const open = 1 - 0.72 * exp(-(gx * gx) / 0.75 - (away * away) / spread);
      const k = (sun * lit + sky * open) / (sun + sky);
      const o = (y * width + x) * 3;
      picture[o]! *= k;
      picture[o + 1]! *= k;
      picture[o + 2]! *= k * (1 + 0.06 * (1 - lit));
    }
}

/** Lays a bike over the picture; the box is where it covers more than half a pixel. */
function compose(
  picture: Float32Array,
  layer: Layer,
  width: number,
  height: number,
): readonly [number, number, number, number] | null {
  let x0 = width;
  let y0 = height;
  let x1 = -1;
  let y1 = -1;
  for (let ly = 0; ly < layer.height; ly++) {
    const y = ly + layer.top;
    if (y < 0 || y >= height) continue;
    for (let lx = 0; lx < layer.width; lx++) {
      const x = lx + layer.left;
      if (x < 0 || x >= width) continue;
      const q = (ly * layer.width + lx) * 4;
      const covered = layer.data[q + 3]!;
      if (covered <= 0) continue;
      const o = (y * width + x) * 3;
      for (let c = 0; c < 3; c++) picture[o + c] = picture[o + c]! * (1 - covered) + layer.data[q + c]!;
      if (covered <= 0.5) continue;
      x0 = Math.min(x0, x);
      x1 = Math.max(x1, x);
      y0 = Math.min(y0, y);
      y1 = Math.max(y1, y);
    }
  }
  return x1 < 0 ? null : [x0 / width, y0 / height, (x1 + 1 - x0) / width, (y1 + 1 - y0) / height];
}

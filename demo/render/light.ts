/**
 * Light of a place and hour: a sun, a sky that brightens towards the horizon, and what the ground throws back.
 * Reflection after Trowbridge and Reitz (GGX) with Schlick's Fresnel term; a clear coat is a second, smooth layer.
 */
import type { Rgb } from './colours.js';
import { clamp, cos, mix, PI, radians, sin, smooth, unit, type Vector } from './maths.js';
import { surface } from './paint.js';

export interface Light {
  /** Towards the sun, in the track's axes. */
  readonly sun: Vector;
  readonly sunColour: Rgb;
  readonly zenith: Rgb;
  readonly horizon: Rgb;
  readonly ground: Rgb;
  /** 0 clear … 1 overcast. */
  readonly cloud: number;
}

export interface Sky {
  readonly sunColour: Rgb;
  readonly zenith: Rgb;
  readonly horizon: Rgb;
  readonly cloud: number;
}

/** `azimuthDeg` from the direction of travel towards the rider's right. */
export function lightOf(sky: Sky, azimuthDeg: number, elevationDeg: number): Light {
  const a = radians(azimuthDeg);
  const e = radians(elevationDeg);
  const sun = unit([cos(a) * cos(e), sin(e), sin(a) * cos(e)]);
  const lit = sky.sunColour[1] * sun[1] + 0.3 * (sky.zenith[1] + sky.horizon[1]);
  return { ...sky, sun, ground: [0.12 * lit, 0.118 * lit, 0.108 * lit] };
}

/** Filled in place; see `surface`. */
export const radiance = { r: 0, g: 0, b: 0 };

const TREE_LINE = 0.1;
function reflected(light: Light, dy: number, roughness: number, channel: 0 | 1 | 2): number {
  const low = 1 - clamp(dy);
  const sky = mix(light.zenith[channel], light.horizon[channel], low * low * low);
  const trees = 0.5 * light.ground[channel];
  const soft = 0.03 + roughness * 0.8;
  const withTrees = mix(trees, sky, smooth(TREE_LINE - soft * 0.4, TREE_LINE + soft, dy));
  return mix(light.ground[channel], withTrees, smooth(-soft, soft * 0.5, dy));
}

/** Shades `surface` at height `py` with normal n, view v, and how much sun and sky reach it. */
export function shade(
  light: Light,
  py: number,
  nx: number,
  ny: number,
  nz: number,
  vx: number,
  vy: number,
  vz: number,
  sunShare: number,
  openness: number,
): void {
  const [sx, sy, sz] = light.sun;
  const nv = Math.max(nx * vx + ny * vy + nz * vz, 0.02);
  const nl = Math.max(nx * sx + ny * sy + nz * sz, 0);
  const direct = nl * sunShare;
  const reflection = 2 * nv;
  const ry = reflection * ny - vy;
  const hx = vx + sx;
  const hy = vy + sy;
  const hz = vz + sz;
  const nh = Math.max((nx * hx + ny * hy + nz * hz) / (Math.sqrt(hx * hx + hy * hy + hz * hz) || 1), 0);
  const q = 1 - nv;
  const fresnel = q * q * q * q * q;
  // The ground under a bike lies in its shadow.
  const groundShare = mix(0.3, 1, clamp(py / 0.55));
  const up = smooth(-1, 1, ny);
  const seen = openness * (0.5 + 0.5 * openness);
  const belowShare = ry < 0.1 ? mix(groundShare, 1, smooth(-0.2, 0.1, ry)) : 1;
  const baseGlint = glint(nh, surface.roughness) * direct;
  const coatGlint = surface.coat > 0 ? glint(nh, 0.17) * direct : 0;
  const coatShare = (0.045 + 0.955 * fresnel) * surface.coat;
  for (let c = 0 as 0 | 1 | 2; c < 3; c++) {
    const colour = c === 0 ? surface.r : c === 1 ? surface.g : surface.b;
    const skyLight = mix(light.ground[c] * groundShare, mix(light.horizon[c], light.zenith[c], 0.45), up) * openness;
    let out = colour * (1 - surface.metal) * (skyLight + light.sunColour[c] * direct);
    const f0 = mix(0.04, colour, surface.metal);
    const around = reflected(light, ry, surface.roughness, c) * seen * belowShare;
    out +=
      (f0 + (1 - f0) * fresnel * (1 - surface.roughness)) *
      (around * (1 - 0.5 * surface.coat) + light.sunColour[c] * baseGlint);
    if (surface.coat > 0) {
      const gloss = reflected(light, ry, 0.04, c) * seen * belowShare + light.sunColour[c] * coatGlint;
      out = out * (1 - coatShare) + coatShare * gloss;
    }
    if (c === 0) radiance.r = out;
    else if (c === 1) radiance.g = out;
    else radiance.b = out;
  }
}

function glint(nh: number, roughness: number): number {
  const a = roughness * roughness;
  const d = nh * nh * (a * a - 1) + 1;
  return Math.min((a * a) / (PI * d * d), 60) * 0.25;
}

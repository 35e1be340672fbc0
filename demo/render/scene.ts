/** The ground and everything standing beside the track, as colours of a place given by `q` (metres to the right of the bike's line) and `s` (metres along it). */
import { PAINTS, type Rgb, rgb } from './colours.js';
import { clamp, exp, hypot, mix, PI, sin, smooth } from './maths.js';
import { cloudNoise, hash2, noise2 } from './noise.js';

export type Verge = 'grass' | 'gravel' | 'runOff' | 'sand' | 'sea' | 'concrete';
export type WallKind = 'tyres' | 'rail' | 'fence' | 'boards' | 'dune' | 'trees' | 'huts';

export interface Wall {
  readonly kind: WallKind;
  /** Distance from the bike's line, metres. */
  readonly q: number;
  readonly bottom: number;
  readonly top: number;
  readonly seed?: number;
}

export interface Side {
  /** |q| of the edge of the tarmac. */
  readonly edge: number;
  readonly kerb: number;
  readonly kerbColours: readonly [Rgb, Rgb];
  /** Each kind reaches to its |q|. */
  readonly verges: readonly (readonly [Verge, number])[];
  readonly walls: readonly Wall[];
}

export interface Scene {
  /** Radius of the bend, metres; positive bends to the right. */
  readonly radius: number;
  readonly left: Side;
  readonly right: Side;
  readonly seed: number;
  /** 0 lush … 1 straw. */
  readonly dryness: number;
}

/** Filled in place; `a` is how much of the view it stops. */
export const seen = { r: 0, g: 0, b: 0, a: 1 };
const set = (r: number, g: number, b: number): typeof seen => {
  seen.r = r;
  seen.g = g;
  seen.b = b;
  return seen;
};
const WHITE_LINE: Rgb = rgb('#dcdcd6');

/** Colour of the ground; `across` and `along` are the size of a pixel there, metres, so that fine grain fades with distance. */
export function groundAt(scene: Scene, q: number, s: number, across: number, along: number): typeof seen {
  const side = q < 0 ? scene.left : scene.right;
  const from = Math.abs(q);
  const size = Math.max(across, along);
  const fine = clamp(1 - size / 0.1);
  if (from < side.edge) return tarmac(scene, side, q, from, s, fine);
  if (from < side.edge + side.kerb) return kerb(side, q, from, s);
  const verge = side.verges.find(([, until]) => from < until)?.[0] ?? 'grass';
  const coarse = clamp(1.2 - size / 1.2);
  switch (verge) {
    case 'gravel':
    case 'sand': {
      const v =
        0.3 + 0.12 * (cloudNoise(s * 0.7, q * 0.9, 2) - 0.5) * coarse + 0.16 * (noise2(s * 9, q * 9) - 0.5) * fine;
      return verge === 'gravel' ? set(v, v * 0.89, v * 0.73) : set(v * 1.15, v * 1.0, v * 0.74);
    }
    case 'runOff': {
      const isStripe = (((q + s * 0.25) % 3) + 3) % 3 < 1.1;
      const c = side.kerbColours[0];
      return isStripe ? set(c[0] * 0.45 + 0.03, c[1] * 0.45 + 0.03, c[2] * 0.45 + 0.03) : set(0.15, 0.15, 0.148);
    }
    case 'sea': {
      const v = 0.8 + 0.5 * (noise2(s * 0.06, q * 0.5) - 0.5) * coarse;
      return set(0.045 * v, 0.085 * v, 0.11 * v);
    }
    case 'concrete': {
      const v = 0.32 + 0.05 * (noise2(s * 0.7, q * 2) - 0.5);
      return set(v, v * 0.98, v * 0.94);
    }
    case 'grass': {
      const patch = cloudNoise(s * 0.23 + scene.seed, q * 0.31, 2);
      const dry = clamp(scene.dryness + (patch - 0.5) * 0.9);
      const mown = sin(q * 1.3) > 0 ? 1 : 0.9;
      const v = (0.72 + 0.3 * patch + 0.45 * (noise2(s * 7, q * 11) - 0.5) * fine) * mown;
      return set(mix(0.07, 0.18, dry) * v, mix(0.105, 0.155, dry) * v, mix(0.032, 0.075, dry) * v);
    }
  }
}

function tarmac(scene: Scene, side: Side, q: number, from: number, s: number, fine: number): typeof seen {
  let v =
    0.098 + 0.02 * (noise2(s * 0.35 + scene.seed, q * 0.6) - 0.5) + 0.02 * (noise2(s * 3.1, q * 7.3) - 0.5) * fine;
  v *= 1 - 0.25 * exp(-((q - 0.1) * (q - 0.1)) / 1.6);
  const streak = noise2(q * 9 + scene.seed * 3, s * 0.02);
  if (streak > 0.72) v *= 1 - 0.3 * smooth(0.72, 0.85, streak);
  if (Math.abs(from - side.edge + 0.22) < 0.07)
    return set(WHITE_LINE[0] * 0.85, WHITE_LINE[1] * 0.85, WHITE_LINE[2] * 0.85);
  return set(v, v * 0.985, v * 0.965);
}

function kerb(side: Side, q: number, from: number, s: number): typeof seen {
  const block = ((Math.floor(s / 1.3) % 2) + 2) % 2;
  const c = side.kerbColours[block as 0 | 1];
  const inner = (from - side.edge) / side.kerb;
  const worn = (0.74 + 0.26 * noise2(s * 2.3, q * 6)) * (1 - 0.35 * smooth(0.35, 0, inner) * noise2(s * 0.8, 4));
  return set(c[0] * worn, c[1] * worn, c[2] * worn);
}

const TYRE_BELTS: readonly Rgb[] = [rgb('#d8d6d0'), rgb('#1b1b1c'), rgb('#1b1b1c'), rgb('#31547c'), rgb('#1b1b1c')];
const BOARDS: readonly Rgb[] = [rgb('#eceae4'), rgb('#2c5f7c'), rgb('#d9c9a0'), rgb('#2a2c30'), rgb('#7d8f86')];
const HUTS: readonly Rgb[] = [rgb('#e2ddd0'), rgb('#8fb0bd'), rgb('#d7b98e'), rgb('#b9c4b0'), rgb('#c9a29a')];
const pick = (list: readonly Rgb[], i: number): Rgb => list[((i % list.length) + list.length) % list.length]!;
const repeat = (x: number): number => x - Math.floor(x);

/** Colour and cover of a wall at height `y`; `size` is a pixel there, metres. */
export function wallAt(wall: Wall, s: number, y: number, size: number): typeof seen {
  seen.a = 1;
  const t = (y - wall.bottom) / (wall.top - wall.bottom);
  const seed = wall.seed ?? 0;
  switch (wall.kind) {
    case 'tyres': {
      const row = y / 0.26;
      const column = s / 0.56;
      const c = pick(TYRE_BELTS, Math.floor(s / 2.4));
      const detail = clamp(1.4 - size / 0.12);
      const gap = 0.35 * detail * (1 - Math.min(1, Math.min(repeat(row), 1 - repeat(row)) * 6));
      const v =
        Math.max(0.08, 0.55 + 0.45 * sin(PI * repeat(column)) - gap) *
        (0.85 + 0.3 * hash2(Math.floor(column), Math.floor(row)));
      return set(c[0] * v, c[1] * v, c[2] * v);
    }
    case 'rail': {
      const v = (0.2 + 0.14 * sin(t * PI * 6)) * (Math.abs(repeat(s / 2) - 0.5) > 0.47 ? 0.7 : 1);
      return set(v, v * 1.01, v * 1.03);
    }
    case 'fence': {
      const isPost = Math.abs(repeat(s / 3) - 0.5) > 0.485;
      seen.a = isPost ? 0.9 : 0.2;
      const v = isPost ? 0.22 : 0.32;
      return set(v, v, v);
    }
    case 'boards': {
      const i = Math.floor(s / 5.5);
      const bx = (repeat(s / 5.5) - 0.5) * 5.5;
      const by = (t - 0.5) * (wall.top - wall.bottom);
      const kind = hash2(i, seed + 3);
      const mark =
        kind < 0.4
          ? Math.abs(by) < 0.16 && Math.abs(bx) < 1.8 && repeat(bx * 2.4) < 0.7
          : kind < 0.7
            ? hypot(bx, by * 1.2) < 0.36
            : Math.abs(bx + by) < 0.5;
      const c = pick(BOARDS, mark ? i + 2 : i);
      return set(c[0] * 0.8, c[1] * 0.8, c[2] * 0.8);
    }
    case 'dune': {
      const rough = cloudNoise(s * 0.2 + seed, y * 0.8, 3);
      const grassy = smooth(0.3, 0.75, cloudNoise(s * 0.22 + seed * 2, y * 0.9 + 4, 3));
      const crest = 0.62 + 0.34 * noise2(s * 0.06, seed) + 0.05 * noise2(s * 1.7, seed + 3);
      seen.a = t < crest ? 1 : 0;
      const v = 0.7 + 0.5 * rough;
      return set(mix(0.34, 0.13, grassy) * v, mix(0.29, 0.15, grassy) * v, mix(0.2, 0.06, grassy) * v);
    }
    case 'trees': {
      const crown =
        0.5 +
        0.36 * noise2(s * 0.085 + seed, 1.7) +
        0.12 * noise2(s * 0.33 + seed, 5.1) +
        0.05 * noise2(s * 1.4, 8 + seed);
      const top = wall.bottom + (wall.top - wall.bottom) * crest(crown);
      if (y > top + (noise2(s * 3.3, y * 3.3) - 0.5) * 0.9) {
        seen.a = 0;
        return seen;
      }
      const clump = cloudNoise(s * 0.42 + seed, y * 0.5, 3);
      const v = 0.25 + 0.85 * smooth(0.3, 0.72, clump) * (0.45 + 0.55 * clamp((y - wall.bottom) / (top - wall.bottom)));
      const hue = noise2(s * 0.09 + seed * 3, 2.2);
      return set(mix(0.055, 0.115, hue) * v, mix(0.09, 0.125, hue) * v, 0.04 * v);
    }
    case 'huts': {
      const i = Math.floor(s / 3.4);
      const fx = repeat(s / 3.4) - 0.5;
      const roof = wall.top - Math.abs(fx) * 1.9;
      if (Math.abs(fx) > 0.44 || y > roof) {
        seen.a = 0;
        return seen;
      }
      const c = pick(HUTS, Math.floor(hash2(i, seed) * 5));
      const isDoor = Math.abs(fx) < 0.13 && y < wall.bottom + 1.9;
      const isRoof = y > roof - 0.22;
      const v = isDoor ? 0.35 : isRoof ? 0.3 : repeat(s * 4) < 0.12 ? 0.7 : 0.82;
      return set(c[0] * v, c[1] * v, c[2] * v);
    }
  }
}
const crest = (share: number): number => clamp(share, 0, 1);

export const KERBS = {
  redWhite: [rgb('#a3202a'), rgb('#dedbd3')],
  blueWhite: [rgb('#24558c'), rgb('#dedbd3')],
  greenWhite: [rgb('#2c6e49'), rgb('#dedbd3')],
  blackYellow: [rgb('#26282b'), PAINTS.yellow],
} as const satisfies Record<string, readonly [Rgb, Rgb]>;

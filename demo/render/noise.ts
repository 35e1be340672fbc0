/** Seeded randomness and value noise. Integer arithmetic only, so every machine draws the same day. */

export interface Random {
  /** 0 ≤ value < 1. */
  (): number;
  between(low: number, high: number): number;
  whole(low: number, high: number): number;
  oneOf<T>(list: readonly T[]): T;
  /** Roughly normal, mean 0, standard deviation 1, never beyond ±4.3 (a sum of six uniforms). */
  normal(): number;
  isTrue(chance: number): boolean;
}

/** Mulberry32, a public-domain generator by T. Ettinger. */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  for (let warm = 0; warm < 4; warm++) next();
  const normal = (): number => {
    let sum = 0;
    for (let i = 0; i < 6; i++) sum += next();
    return (sum - 3) * Math.SQRT2;
  };
  return Object.assign(next, {
    between: (low: number, high: number) => low + (high - low) * next(),
    whole: (low: number, high: number) => Math.floor(low + (high - low + 1) * next()),
    oneOf: <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!,
    normal,
    isTrue: (chance: number) => next() < chance,
  });
}

/** A fixed random number for each pair of whole numbers. */
export function hash2(x: number, y: number): number {
  let n = Math.imul(x, 374761393) + Math.imul(y, 668265263);
  n = Math.imul(n ^ (n >>> 13), 1274126177);
  return ((n ^ (n >>> 16)) >>> 0) / 4294967296;
}

/** Smooth noise 0–1 over the plane, one bump a unit. */
export function noise2(x: number, y: number): number {
  const xi = Math.floor(x);
  const yi = Math.floor(y);
  let fx = x - xi;
  let fy = y - yi;
  fx = fx * fx * (3 - 2 * fx);
  fy = fy * fy * (3 - 2 * fy);
  const a = hash2(xi, yi);
  const b = hash2(xi + 1, yi);
  const c = hash2(xi, yi + 1);
  const d = hash2(xi + 1, yi + 1);
  return a + (b - a) * fx + (c - a) * fy + (a - b - c + d) * fx * fy;
}

/** Noise of several sizes on top of one another, 0–1. */
export function cloudNoise(x: number, y: number, octaves: number): number {
  let sum = 0;
  let weight = 0.5;
  let total = 0;
  for (let i = 0; i < octaves; i++) {
    sum += weight * noise2(x, y);
    total += weight;
    weight *= 0.5;
    x = x * 2.03 + 17.1;
    y = y * 2.01 + 5.3;
  }
  return sum / total;
}

/** Noise in space, made of two planes: enough for creases in leather. */
export const noise3 = (x: number, y: number, z: number): number =>
  0.5 * (noise2(x + z * 0.71, y - z * 0.53) + noise2(x - z * 0.64 + 31.7, y + z * 0.77 + 11.3));

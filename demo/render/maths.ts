/**
 * Vectors and elementary functions for the renderer.
 *
 * The pictures are made again bit for bit, so nothing here may depend on an engine's mathematics library: only
 * additions, multiplications, divisions and square roots are used, which IEEE 754 rounds exactly. The series are
 * Taylor's, cut where the rest is below 1e-10 after range reduction: far finer than a pixel's 8 bits.
 */
export type Vector = readonly [number, number, number];

export const PI = Math.PI;
export const radians = (deg: number): number => (deg * PI) / 180;

export const clamp = (x: number, low = 0, high = 1): number => Math.min(high, Math.max(low, x));
export const mix = (a: number, b: number, t: number): number => a + (b - a) * t;
/** 0 at `from`, 1 at `to`, with level ends; `from` may lie above `to`. */
export const smooth = (from: number, to: number, x: number): number => {
  const t = clamp((x - from) / (to - from));
  return t * t * (3 - 2 * t);
};

export const add = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vector, s: number): Vector => [a[0] * s, a[1] * s, a[2] * s];
export const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vector): number => Math.sqrt(dot(a, a));
export const unit = (a: Vector): Vector => scale(a, 1 / (length(a) || 1));
export const between = (a: Vector, b: Vector, t: number): Vector => [
  mix(a[0], b[0], t),
  mix(a[1], b[1], t),
  mix(a[2], b[2], t),
];
export const hypot = (x: number, y: number, z = 0): number => Math.sqrt(x * x + y * y + z * z);

export function sin(x: number): number {
  const turns = Math.floor(x / PI + 0.5);
  const r = x - turns * PI;
  const q = r * r;
  const series =
    r *
    (1 -
      (q / 6) *
        (1 -
          (q / 20) *
            (1 - (q / 42) * (1 - (q / 72) * (1 - (q / 110) * (1 - (q / 156) * (1 - (q / 210) * (1 - q / 272))))))));
  return turns % 2 === 0 ? series : -series;
}
export const cos = (x: number): number => sin(x + PI / 2);

function arctangentOfSmall(z: number): number {
  const q = z * z;
  let sum = 0;
  for (let k = 23; k >= 1; k -= 2) sum = 1 / k - q * sum;
  return z * sum;
}
export function atan2(y: number, x: number): number {
  const ax = Math.abs(x);
  const ay = Math.abs(y);
  if (ax === 0 && ay === 0) return 0;
  const z = ax > ay ? ay / ax : ax / ay;
  const small = z > 0.4142 ? PI / 4 + arctangentOfSmall((z - 1) / (z + 1)) : arctangentOfSmall(z);
  const first = ax > ay ? small : PI / 2 - small;
  const upper = x < 0 ? PI - first : first;
  return y < 0 ? -upper : upper;
}

const LN2 = Math.LN2;
const TWO_TO = new Float64Array(401);
TWO_TO[200] = 1;
for (let k = 1; k <= 200; k++) {
  TWO_TO[200 + k] = TWO_TO[199 + k]! * 2;
  TWO_TO[200 - k] = TWO_TO[201 - k]! / 2;
}
export function exp(x: number): number {
  if (x < -130) return 0;
  const k = Math.floor(x / LN2 + 0.5);
  const r = x - k * LN2;
  let sum = 1;
  for (let n = 11; n >= 1; n--) sum = 1 + (r / n) * sum;
  return sum * TWO_TO[200 + k]!;
}
/** Natural logarithm; `x` must be above 0. */
export function log(x: number): number {
  let m = x;
  let k = 0;
  while (m > Math.SQRT2) {
    m /= 2;
    k++;
  }
  while (m < Math.SQRT1_2) {
    m *= 2;
    k--;
  }
  const t = (m - 1) / (m + 1);
  const q = t * t;
  let sum = 0;
  for (let n = 17; n >= 1; n -= 2) sum = 1 / n + q * sum;
  return 2 * t * sum + k * LN2;
}
export const pow = (x: number, y: number): number => (x <= 0 ? 0 : exp(y * log(x)));

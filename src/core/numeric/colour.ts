/**
 * Colour spaces: sRGB (IEC 61966-2-1) ↔ linear light ↔ CIE XYZ (Y = 1, D65) ↔ CIE Lab (D65) ↔ LCh.
 *
 * Matrix: W3C CSS Color 4, exact rationals from the sRGB primaries and D65 white (x 0.3127, y 0.3290), so Lab differs
 * from the standard's own four-digit matrix by up to 0.01. Lab here is **D65**, not the D50 of ICC profiles and CSS `lab()`.
 * Valid for sRGB codes 0–255; hue of a grey is undefined and comes back as 0 with chroma near 0.
 */

export type Lab = readonly [lightness: number, a: number, b: number];
export type Xyz = readonly [x: number, y: number, z: number];
export type LinearRgb = readonly [red: number, green: number, blue: number];

/** White of D65 in XYZ, from chromaticity x 0.3127, y 0.3290. */
export const WHITE_D65: Xyz = [0.3127 / 0.329, 1, (1 - 0.3127 - 0.329) / 0.329];

/** CIE 15: ε = (6/29)³, κ = (29/3)³. */
const EPSILON = 216 / 24389;
const KAPPA = 24389 / 27;

/** Inverse of the sRGB transfer curve: code value 0–1 to linear light 0–1. */
export const linearOf = (code: number): number => (code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4);

/** The sRGB transfer curve: linear light 0–1 to code value 0–1. */
export const codeOf = (linear: number): number =>
  linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;

/** Linear light of the 256 sRGB codes. */
export const LINEAR_OF_BYTE: Float64Array = Float64Array.from({ length: 256 }, (_, byte) => linearOf(byte / 255));

export const xyzOfLinear = ([red, green, blue]: LinearRgb): Xyz => [
  (506752 / 1228815) * red + (87881 / 245763) * green + (12673 / 70218) * blue,
  (87098 / 409605) * red + (175762 / 245763) * green + (12673 / 175545) * blue,
  (7918 / 409605) * red + (87881 / 737289) * green + (1001167 / 1053270) * blue,
];

export const linearOfXyz = ([x, y, z]: Xyz): LinearRgb => [
  (12831 / 3959) * x - (329 / 214) * y - (1974 / 3959) * z,
  (-851781 / 878810) * x + (1648619 / 878810) * y + (36519 / 878810) * z,
  (705 / 12673) * x - (2585 / 12673) * y + (705 / 667) * z,
];

const compress = (t: number): number => (t > EPSILON ? Math.cbrt(t) : (KAPPA * t + 16) / 116);
const expand = (f: number): number => (f ** 3 > EPSILON ? f ** 3 : (116 * f - 16) / KAPPA);

export function labOfXyz([x, y, z]: Xyz): Lab {
  const fx = compress(x / WHITE_D65[0]);
  const fy = compress(y / WHITE_D65[1]);
  const fz = compress(z / WHITE_D65[2]);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

export function xyzOfLab([lightness, a, b]: Lab): Xyz {
  const fy = (lightness + 16) / 116;
  return [WHITE_D65[0] * expand(fy + a / 500), WHITE_D65[1] * expand(fy), WHITE_D65[2] * expand(fy - b / 200)];
}

export const labOfLinear = (linear: LinearRgb): Lab => labOfXyz(xyzOfLinear(linear));

/** Lab D65 of sRGB bytes 0–255. */
export const labOfRgb = (red: number, green: number, blue: number): Lab =>
  labOfLinear([LINEAR_OF_BYTE[red]!, LINEAR_OF_BYTE[green]!, LINEAR_OF_BYTE[blue]!]);

/** sRGB bytes of a Lab D65 colour, clipped to the gamut channel by channel. */
export function rgbOfLab(lab: Lab): readonly [number, number, number] {
  const [red, green, blue] = linearOfXyz(xyzOfLab(lab));
  const byteOf = (linear: number) => Math.round(255 * codeOf(Math.min(1, Math.max(0, linear))));
  return [byteOf(red), byteOf(green), byteOf(blue)];
}

/** Lightness, chroma, and hue in degrees 0–360. */
export function lchOfLab([lightness, a, b]: Lab): readonly [lightness: number, chroma: number, hueDeg: number] {
  const hue = (Math.atan2(b, a) * 180) / Math.PI;
  return [lightness, Math.hypot(a, b), hue < 0 ? hue + 360 : hue];
}

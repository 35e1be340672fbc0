/**
 * What tells one bike from another, kept raw and small: a Lab histogram in four bands of the subject, the bike network's
 * own values, and the detector's features of the cut-out (block 9 whole, block 13 projected). Whitening is left to the
 * arrange stage, on the meeting's own frames, with `descriptorParts` and `fitDescriptorWhitening`.
 *
 * Format 2: 400 + 96 + 192 + 320 = 1,008 bytes of int8, each value round(254 × component of the part's unit vector),
 * clipped to ±127, base64. Without features (no network was run) only the first 400.
 */
import { labOfRgb } from '../numeric/colour.js';
import type { BikeFeatures } from './bikeSeen.js';
import type { SubjectMask } from './maskSubject.js';

/** Each of unit length; all but the colours absent where no features were measured. */
export interface DescriptorParts {
  readonly lab: Float32Array;
  readonly taught?: Float32Array;
  readonly block9?: Float32Array;
  readonly block13?: Float32Array;
}

const BANDS = 4;
const LIGHTNESS_BINS = 4;
const CHROMA_BINS = 5;
/** a* and b* from −50 to 50, beyond that the last bin. */
const CHROMA_REACH = 50;
const BAND_BINS = LIGHTNESS_BINS * CHROMA_BINS * CHROMA_BINS;
const CODE_SCALE = 254;

/** The parts in the order in which they are kept, and how many values each has. */
export const PART_LENGTHS = { lab: BANDS * BAND_BINS, taught: 96, block9: 192, block13: 320 } as const;
const FULL_LENGTH = Object.values(PART_LENGTHS).reduce((sum, length) => sum + length, 0);

export function describeBike(mask: SubjectMask, features?: BikeFeatures): string {
  const parts = [labBands(mask)];
  if (features)
    parts.push(normalise(features.taught), normalise(features.block9), normalise(project(features.block13)));
  const codes = new Int8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    for (const value of part) codes[at++] = Math.max(-127, Math.min(127, Math.round(value * CODE_SCALE)));
  }
  return base64Of(codes);
}

/** The parts of a descriptor, each of unit length. Throws when the text is no descriptor of this format. */
export function descriptorParts(descriptor: string): DescriptorParts {
  const codes = codesOf(descriptor);
  if (codes.length !== PART_LENGTHS.lab && codes.length !== FULL_LENGTH) {
    throw new RangeError(
      `Expected a descriptor of ${PART_LENGTHS.lab} or ${FULL_LENGTH} bytes but got ${codes.length}; measure the frame again.`,
    );
  }
  if (codes.length === PART_LENGTHS.lab) return { lab: normalise(Float32Array.from(codes)) };
  let at = 0;
  const next = (name: keyof DescriptorParts) => {
    const from = at;
    at += PART_LENGTHS[name];
    return normalise(Float32Array.from(codes.subarray(from, at)));
  };
  return { lab: next('lab'), taught: next('taught'), block9: next('block9'), block13: next('block13') };
}

/** Limits of the bands, in standard deviations of the subject's height about its middle. */
const BAND_LIMITS = [-0.8, 0, 0.8] as const;

/**
 * Square roots of soft Lab histograms (so that a dot product is the Bhattacharyya coefficient), one for each band of the
 * subject's height. The bands follow the mask and not the box, which rider and lean stretch.
 */
function labBands({ picture, inside }: SubjectMask): Float32Array {
  const { width, height, data } = picture;
  const histogram = new Float32Array(PART_LENGTHS.lab);
  const { middle, spread } = heightsOf(inside, width, height);
  for (let y = 0; y < height; y += 1) {
    const band = BAND_LIMITS.filter((limit) => y >= middle + limit * spread).length;
    // Every other pixel, as on a chessboard: the shares stay the same at half the cost.
    for (let x = y % 2; x < width; x += 2) {
      const index = y * width + x;
      if (inside[index]! < 0.1) continue;
      const at = 3 * index;
      addSoftly(histogram, band * BAND_BINS, labOfRgb(data[at]!, data[at + 1]!, data[at + 2]!), inside[index]!);
    }
  }
  for (let band = 0; band < BANDS; band += 1) {
    const bins = histogram.subarray(band * BAND_BINS, (band + 1) * BAND_BINS);
    const sum = bins.reduce((total, value) => total + value, 0) || 1;
    for (let bin = 0; bin < BAND_BINS; bin += 1) bins[bin] = Math.sqrt(bins[bin]! / sum);
  }
  return normalise(histogram);
}

/** Mean and standard deviation of the rows in which the subject lies. */
function heightsOf(inside: Float32Array, width: number, height: number): { middle: number; spread: number } {
  let [weight, sum, squares] = [0, 0, 0];
  for (let y = 0; y < height; y += 1) {
    let row = 0;
    for (let x = 0; x < width; x += 1) row += inside[y * width + x]!;
    weight += row;
    sum += row * y;
    squares += row * y * y;
  }
  if (weight === 0) return { middle: height / 2, spread: height / 4 };
  const middle = sum / weight;
  return { middle, spread: Math.sqrt(Math.max(0, squares / weight - middle * middle)) };
}

/** Shares one pixel among the eight bins about its colour. */
function addSoftly(
  histogram: Float32Array,
  offset: number,
  lab: readonly [number, number, number],
  weight: number,
): void {
  const l = place(lab[0] / 100, LIGHTNESS_BINS);
  const a = place((lab[1] + CHROMA_REACH) / (2 * CHROMA_REACH), CHROMA_BINS);
  const b = place((lab[2] + CHROMA_REACH) / (2 * CHROMA_REACH), CHROMA_BINS);
  for (let corner = 0; corner < 8; corner += 1) {
    const [dl, da, db] = [corner & 1, (corner >> 1) & 1, corner >> 2];
    const share = (dl ? l.share : 1 - l.share) * (da ? a.share : 1 - a.share) * (db ? b.share : 1 - b.share);
    const bin = ((l.bin + dl) * CHROMA_BINS + a.bin + da) * CHROMA_BINS + b.bin + db;
    histogram[offset + bin]! += weight * share;
  }
}

/** 0–1 to the bin below and the share of the bin above. */
function place(value: number, bins: number): { readonly bin: number; readonly share: number } {
  const at = Math.min(bins - 1.001, Math.max(0, value * (bins - 1)));
  const bin = Math.floor(at);
  return { bin, share: at - bin };
}

/** How many of the projected values each input is added to. */
const SPREAD = 8;

/**
 * Fixed sparse random projection: D. M. Kane, J. Nelson, "Sparser Johnson–Lindenstrauss transforms", J. ACM 61(1), 2014:
 * each input joins 8 of the 320 outputs, one in each eighth of them, with a random sign. Dot products survive to about
 * 1/√320; a kept matrix of 1,728 × 320 would be larger than the network.
 */
function project(values: Float32Array): Float32Array {
  const result = new Float32Array(PART_LENGTHS.block13);
  const stretch = PART_LENGTHS.block13 / SPREAD;
  // xorshift32 (G. Marsaglia, J. Stat. Softw. 8(14), 2003) from a fixed state: the same projection for ever.
  let state = 0x9e3779b9 | 0;
  for (const value of values) {
    for (let start = 0; start < PART_LENGTHS.block13; start += stretch) {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      result[start + ((state >>> 1) % stretch)]! += state & 1 ? value : -value;
    }
  }
  return result;
}

/** A new vector of length 1 (or all zeros as it came). */
export function normalise(values: Float32Array): Float32Array {
  let squares = 0;
  for (const value of values) squares += value * value;
  const scale = squares > 0 ? 1 / Math.sqrt(squares) : 0;
  return values.map((value) => value * scale);
}

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Base64 of RFC 4648 §4; the core has neither Buffer nor btoa. */
export function base64Of(codes: Int8Array): string {
  const bytes = new Uint8Array(codes.buffer, codes.byteOffset, codes.length);
  let text = '';
  for (let at = 0; at < bytes.length; at += 3) {
    const left = bytes.length - at;
    const group = (bytes[at]! << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0);
    text += ALPHABET[group >> 18]! + ALPHABET[(group >> 12) & 63]!;
    text += left > 1 ? ALPHABET[(group >> 6) & 63]! : '=';
    text += left > 2 ? ALPHABET[group & 63]! : '=';
  }
  return text;
}

const VALUE_OF: ReadonlyMap<string, number> = new Map([...ALPHABET].map((letter, value) => [letter, value]));

/** The int8 values of a base64 text. */
export function codesOf(text: string): Int8Array {
  const letters = text.replace(/=+$/, '');
  const bytes = new Int8Array(Math.floor((letters.length * 3) / 4));
  let [bits, held, to] = [0, 0, 0];
  for (const letter of letters) {
    const value = VALUE_OF.get(letter);
    if (value === undefined) throw new RangeError(`Expected base64 but found “${letter}”; measure the frame again.`);
    bits = ((bits << 6) | value) & 0xffff;
    held += 6;
    if (held < 8) continue;
    held -= 8;
    bytes[to++] = (bits >> held) & 0xff;
  }
  return bytes;
}

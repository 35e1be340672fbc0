/** The descriptor of the first version: Lab rows by the box, and the detector's blocks. Kept for its cost only. */
import { base64Of, normalise } from '../../src/core/measure/describeBike.js';
import type { SubjectMask } from '../../src/core/measure/maskSubject.js';
import { labOfRgb } from '../../src/core/numeric/colour.js';

interface Blocks {
  readonly block9: Float32Array;
  readonly block13: Float32Array;
}

const ROWS = 4;
const LIGHTNESS_BINS = 4;
const CHROMA_BINS = 5;
/** a* and b* from −50 to 50, beyond that the last bin. */
const CHROMA_REACH = 50;
const ROW_BINS = LIGHTNESS_BINS * CHROMA_BINS * CHROMA_BINS;
const LAB_LENGTH = ROWS * ROW_BINS;
const BLOCK_13_LENGTH = 384;
const CODE_SCALE = 254;

export function firstDescriptor(mask: SubjectMask, features?: Blocks): string {
  const parts = [labRows(mask)];
  if (features) parts.push(normalise(features.block9), normalise(project(features.block13)));
  const codes = new Int8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    for (const value of part) codes[at++] = Math.max(-127, Math.min(127, Math.round(value * CODE_SCALE)));
  }
  return base64Of(codes);
}

/**
 * Square roots of soft Lab histograms (so that a dot product is the Bhattacharyya coefficient), one for each quarter of
 * the subject's height, weighted by the mask and towards the middle column.
 */
function labRows({ picture, inside }: SubjectMask): Float32Array {
  const { width, height, data } = picture;
  const histogram = new Float32Array(LAB_LENGTH);
  // The cut-out holds a quarter of the box's size of surroundings on each side.
  const margin = 0.25 / 1.5;
  for (let y = 0; y < height; y += 1) {
    const row = Math.floor((((y + 0.5) / height - margin) / (1 - 2 * margin)) * ROWS);
    if (row < 0 || row >= ROWS) continue;
    // Every other pixel, as on a chessboard: the shares stay the same at half the cost.
    for (let x = y % 2; x < width; x += 2) {
      const index = y * width + x;
      if (inside[index]! < 0.1) continue;
      const at = 3 * index;
      addSoftly(histogram, row * ROW_BINS, labOfRgb(data[at]!, data[at + 1]!, data[at + 2]!), inside[index]!);
    }
  }
  for (let row = 0; row < ROWS; row += 1) {
    const bins = histogram.subarray(row * ROW_BINS, (row + 1) * ROW_BINS);
    const sum = bins.reduce((total, value) => total + value, 0) || 1;
    for (let bin = 0; bin < ROW_BINS; bin += 1) bins[bin] = Math.sqrt(bins[bin]! / sum);
  }
  return normalise(histogram);
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
 * each input joins 8 of the 384 outputs, one in each eighth of them, with a random sign. Dot products survive to about
 * 1/√384; a kept matrix of 1,728 × 384 would be as large as the model.
 */
function project(values: Float32Array): Float32Array {
  const result = new Float32Array(BLOCK_13_LENGTH);
  const stretch = BLOCK_13_LENGTH / SPREAD;
  // xorshift32 (G. Marsaglia, J. Stat. Softw. 8(14), 2003) from a fixed state: the same projection for ever.
  let state = 0x9e3779b9 | 0;
  for (const value of values) {
    for (let start = 0; start < BLOCK_13_LENGTH; start += stretch) {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      result[start + ((state >>> 1) % stretch)]! += state & 1 ? value : -value;
    }
  }
  return result;
}

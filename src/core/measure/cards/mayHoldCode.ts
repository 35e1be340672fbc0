/**
 * A quick look for a QR code's corner squares, before the reading that costs ten times as much. On any straight line through the
 * middle of one, however the code is turned, dark and light run 1 1 3 1 1 modules (ISO/IEC 18004, 6.3.3): rows are searched for
 * that, and what is found must hold down the column as well.
 */
import type { RgbImage } from '../images.js';

/** Of red, green and blue: the codes are black on white, and green is most of what is light. */
const GREEN = 1;
/** The square's middle is three modules high, and the smallest readable module is about two pixels. */
const ROW_STEP = 4;
/** Dark and light differ by so much even on paper in shade. */
const LEAST_CONTRAST = 40;
/** A code has three squares. */
const LEAST_CROSSINGS = 3;
const LEAST_MODULE_PX = 1.4;
const IN_MODULES = [1, 1, 3, 1, 1];
const ALL_MODULES = 7;
/** How far a run may be off, as a share of its module, beside half a pixel. */
const OFF_BY = 0.5;
/** Row and column see one square: aslant it is narrower, by no more than this. */
const MOST_ASLANT = 1.7;

export function mayHoldCode(image: RgbImage): boolean {
  let crossings = 0;
  for (let y = ROW_STEP; y < image.height && crossings < LEAST_CROSSINGS; y += ROW_STEP)
    crossings += crossingsOf(image, y);
  return crossings >= LEAST_CROSSINGS;
}

/** Light falls off along a row: dark and light are told apart against the last of each. */
function crossingsOf(image: RgbImage, y: number): number {
  const { data, width } = image;
  const start = 3 * y * width + GREEN;
  const runs = [0, 0, 0, 0, 0];
  let [high, low, run, found] = [255, 0, 0, 0];
  let isDark = false;
  for (let x = 0; x < width; x += 1) {
    const value = data[start + 3 * x]!;
    high = Math.max(value, high - (high - low) / 64);
    low = Math.min(value, low + (high - low) / 64);
    const isNowDark = high - low >= LEAST_CONTRAST && value < (high + low) / 2;
    run += 1;
    if (isNowDark === isDark) continue;
    runs.shift();
    runs.push(run);
    run = 0;
    // The pattern ends with a dark run.
    const module = isDark ? moduleOf(runs) : null;
    if (module !== null && holdsDown(image, Math.round(x - module * 3.5), y, module, (high + low) / 2)) found += 1;
    isDark = isNowDark;
  }
  return found;
}

/** The module's length where the runs are those of a square; null where they are not. */
function moduleOf(runs: readonly number[]): number | null {
  const module = runs.reduce((sum, run) => sum + run, 0) / ALL_MODULES;
  if (module < LEAST_MODULE_PX) return null;
  const fits = runs.every(
    (run, at) => Math.abs(run - IN_MODULES[at]! * module) <= OFF_BY * module * Math.sqrt(IN_MODULES[at]!) + 0.5,
  );
  return fits ? module : null;
}

function holdsDown({ data, width, height }: RgbImage, x: number, y: number, module: number, border: number): boolean {
  const isDark = (row: number) => data[3 * (row * width + x) + GREEN]! < border;
  const most = module * MOST_ASLANT * ALL_MODULES;
  /** From the middle outwards: half the core, a light run, a dark run. */
  const side = (step: 1 | -1): readonly number[] => {
    const runs = [0, 0, 0];
    let row = y;
    for (let part = 0; part < 3; part += 1)
      for (; row >= 0 && row < height && isDark(row) === (part !== 1) && runs[part]! < most; row += step)
        runs[part]! += 1;
    return runs;
  };
  if (!isDark(y)) return false;
  const [up, down] = [side(-1), side(1)];
  const across = moduleOf([up[2]!, up[1]!, up[0]! + down[0]! - 1, down[1]!, down[2]!]);
  return across !== null && across < module * MOST_ASLANT && module < across * MOST_ASLANT;
}

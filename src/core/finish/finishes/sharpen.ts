/**
 * Sharpening for the size a picture is shown at: the luma of a pixel moves away from its four neighbours' (unsharp masking by the
 * Laplacian), by steps above the grain only, and by no more than so much, so that edges get no rim. Colours stay. Libvips' own
 * sharpening does the same in Lab and takes as long as all the rest of a proof (six times this, measured).
 */

/** Luma steps up to here are grain. */
const GRAIN = 6;
const MOST_STEP = 28;
/** Share of the Laplacian that is added at strength 1. */
const SHARE = 0.35;

/** Three interleaved bytes a pixel, in place. */
export function sharpen(pixels: Uint8Array, width: number, height: number, strength: number): void {
  if (width < 3 || height < 3 || strength <= 0) return;
  const steps = stepTable(strength);
  let [above, own] = [lumaOf(pixels, 0, width), lumaOf(pixels, 1, width)];
  for (let y = 1; y < height - 1; y += 1) {
    const below = lumaOf(pixels, y + 1, width);
    for (let x = 1, at = 3 * (y * width + 1); x < width - 1; x += 1, at += 3) {
      const step = steps[4 * own[x]! - above[x]! - below[x]! - own[x - 1]! - own[x + 1]! + MIDDLE]!;
      if (step === 0) continue;
      pixels[at] = clamped(pixels[at]! + step);
      pixels[at + 1] = clamped(pixels[at + 1]! + step);
      pixels[at + 2] = clamped(pixels[at + 2]! + step);
    }
    [above, own] = [own, below];
  }
}

const MIDDLE = 4 * 255;

/** What is added, by Laplacian of luma. */
function stepTable(strength: number): Int8Array {
  return Int8Array.from({ length: 2 * MIDDLE + 1 }, (_, index) => {
    const laplacian = index - MIDDLE;
    const beyond = Math.max(0, Math.abs(laplacian) - GRAIN);
    return Math.round(Math.sign(laplacian) * Math.min(MOST_STEP, SHARE * strength * beyond));
  });
}

/** Rec. 601 luma of a row (integer weights 77 150 29 of 256). */
function lumaOf(pixels: Uint8Array, row: number, width: number): Uint8Array {
  const out = new Uint8Array(width);
  for (let x = 0, at = 3 * row * width; x < width; x += 1, at += 3)
    out[x] = (77 * pixels[at]! + 150 * pixels[at + 1]! + 29 * pixels[at + 2]!) >> 8;
  return out;
}

const clamped = (value: number): number => Math.min(255, Math.max(0, value));

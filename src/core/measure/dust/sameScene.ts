/** Whether two frames show the same scene from the same place, as those of a burst do: together they are one witness, not two. */
import type { LightSums } from './surroundings.js';
import { lightAt } from './surroundings.js';

const ACROSS = 48;
/** Agreement of signs; where nothing is common it strays by 0.03. */
const LIKENESS = 0.25;

/** The scene's structure on a coarse grid, slow changes of light taken off: shading and vignetting are alike in every sky. */
export function structureOf(light: LightSums): Float64Array {
  const cell = Math.max(3, Math.floor(light.width / ACROSS));
  const half = cell >> 1;
  const columns = Math.floor(light.width / cell);
  const rows = Math.floor(light.height / cell);
  const means = Float64Array.from({ length: columns * rows }, (_, at) =>
    lightAt(light, (at % columns) * cell + half, Math.floor(at / columns) * cell + half, Math.max(1, half - 1)),
  );
  return Float64Array.from(means, (_, at) => {
    const x = at % columns;
    const y = Math.floor(at / columns);
    if (x < 1 || y < 1 || x >= columns - 1 || y >= rows - 1) return 0;
    // The second difference both ways: what is left of a plane or a slow fall of light is nothing.
    const around = means[at - 1]! + means[at + 1]! + means[at - columns]! + means[at + columns]!;
    // The sign alone: one hard edge, or the dust itself on an empty sky, must not be all there is to compare.
    return Math.sign(means[at]! - around / 4);
  });
}

export function isSameScene(a: Float64Array, b: Float64Array): boolean {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let at = 0; at < Math.min(a.length, b.length); at += 1) {
    ab += a[at]! * b[at]!;
    aa += a[at]! ** 2;
    bb += b[at]! ** 2;
  }
  return aa > 0 && bb > 0 && ab / Math.sqrt(aa * bb) > LIKENESS;
}

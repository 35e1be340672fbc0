/**
 * How surely a frame is a divider: a picture of sky, tarmac, grass or a hand, taken between sessions to part them. Such a
 * frame shows no bike, car or rider, and is alike all over: its parts differ little in colour, whatever their texture.
 * Photographers' habit is common practice, without a source; the two widths below are in Lab units and set by reasoning:
 * clouds and mown stripes vary by some ten units, a track with a verge and sky by thirty and more.
 */
import { labOfRgb } from '../numeric/colour.js';
import { type RgbImage, resize, wholeRect } from './images.js';

const BLOCKS_ACROSS = 6;
const BLOCKS_DOWN = 4;
const ALIKE_WITHIN = 18;

/**
 * @param small the picture at a hundred pixels or so
 * @param surestDetection highest score of a bike, car, bicycle or person, 0 when none
 */
export function scoreDivider(small: RgbImage, surestDetection: number): number {
  const empty = 1 - Math.min(1, surestDetection / 0.6);
  return empty * Math.exp(-0.5 * (colourSpread(small) / ALIKE_WITHIN) ** 2);
}

/** Root mean square distance of the blocks' mean colours from their common mean, in Lab units. */
function colourSpread(small: RgbImage): number {
  const { data } = resize(small, wholeRect(small), BLOCKS_ACROSS, BLOCKS_DOWN);
  const blocks = Array.from({ length: BLOCKS_ACROSS * BLOCKS_DOWN }, (_, block) =>
    labOfRgb(data[3 * block]!, data[3 * block + 1]!, data[3 * block + 2]!),
  );
  const mean = [0, 1, 2].map((axis) => blocks.reduce((sum, lab) => sum + lab[axis]!, 0) / blocks.length);
  const squares = blocks.reduce(
    (sum, lab) => sum + lab.reduce((s, value, axis) => s + (value - mean[axis]!) ** 2, 0),
    0,
  );
  return Math.sqrt(squares / blocks.length);
}

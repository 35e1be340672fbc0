/** A look and a picture's size made into operations; the host carries them out one after another. */
import type { Box } from '../../measure/types.js';
import { boxLevelled, levelledShare } from '../crops/level.js';
import type { PixelSize } from '../types.js';
import { keepsColours } from './colours.js';
import type { Look, LookOperation } from './types.js';

const WHOLE: Box = [0, 0, 1, 1];
/**
 * @param original upright
 * @param longEdgePx of the finished picture; null is all there is. Nothing is ever enlarged.
 */
export function planLook(look: Look, original: PixelSize, longEdgePx: number | null): readonly LookOperation[] {
  const share = levelledShare(original, look.turnDeg);
  const crop = look.crop ?? WHOLE;
  const longEdge = Math.max(crop[2] * share * original.widthPx, crop[3] * share * original.heightPx);
  const scale = longEdgePx === null ? 1 : Math.min(1, longEdgePx / longEdge);
  const size = sizeAt(original, scale);
  return [
    { op: 'size', ...size },
    ...(look.turnDeg === 0 ? [] : [{ op: 'turn', deg: look.turnDeg } as const]),
    ...(look.turnDeg === 0 && look.crop === null ? [] : [cutOf(crop, size, look.turnDeg, share)]),
    ...(look.grain > 0 ? [{ op: 'quiet', strength: look.grain } as const] : []),
    ...(keepsColours(look)
      ? []
      : [{ op: 'colour', gains: look.gains, tones: look.tones, strengths: look.strengths } as const]),
    ...(look.sharpness > 0 ? [{ op: 'sharpen', strength: look.sharpness } as const] : []),
  ];
}

const sizeAt = ({ widthPx, heightPx }: PixelSize, scale: number): PixelSize => ({
  widthPx: Math.max(1, Math.round(widthPx * scale)),
  heightPx: Math.max(1, Math.round(heightPx * scale)),
});

/** The outermost pixels of a turned picture are mixed with what lies outside. */
const RIM_PX = 2;

/** Of the turned picture, whose canvas has grown about the same middle. */
function cutOf(crop: Box, size: PixelSize, turnDeg: number, share: number): LookOperation {
  const turned = turnedSize(size, turnDeg);
  const rim = turnDeg === 0 ? 0 : 2 * RIM_PX;
  const level: PixelSize = {
    widthPx: Math.max(1, size.widthPx * share - rim),
    heightPx: Math.max(1, size.heightPx * share - rim),
  };
  const left = (turned.widthPx - level.widthPx) / 2;
  const top = (turned.heightPx - level.heightPx) / 2;
  const widthPx = atMost(Math.round(crop[2] * level.widthPx), turned.widthPx);
  const heightPx = atMost(Math.round(crop[3] * level.heightPx), turned.heightPx);
  return {
    op: 'cut',
    leftPx: Math.min(turned.widthPx - widthPx, Math.max(0, Math.round(left + crop[0] * level.widthPx))),
    topPx: Math.min(turned.heightPx - heightPx, Math.max(0, Math.round(top + crop[1] * level.heightPx))),
    widthPx,
    heightPx,
  };
}

const atMost = (value: number, most: number): number => Math.min(most, Math.max(1, value));

/** Size of the canvas that holds a turned picture, as libvips reckons it. */
export function turnedSize({ widthPx, heightPx }: PixelSize, turnDeg: number): PixelSize {
  if (turnDeg === 0) return { widthPx, heightPx };
  const [sine, cosine] = [Math.abs(Math.sin((turnDeg * Math.PI) / 180)), Math.abs(Math.cos((turnDeg * Math.PI) / 180))];
  return {
    widthPx: Math.round(widthPx * cosine + heightPx * sine),
    heightPx: Math.round(widthPx * sine + heightPx * cosine),
  };
}

/** Size of the finished picture. */
export function finishedSize(operations: readonly LookOperation[]): PixelSize {
  return operations.reduce<PixelSize>(
    (size, operation) =>
      operation.op === 'size' || operation.op === 'cut'
        ? { widthPx: operation.widthPx, heightPx: operation.heightPx }
        : size,
    { widthPx: 1, heightPx: 1 },
  );
}

/** A box of the upright picture, in 0–1 of the finished one; null where nothing of it is left. */
export function boxFinished(box: Box, look: Look, original: PixelSize): Box | null {
  const [left, top, width, height] = boxLevelled(box, original, look.turnDeg);
  const [x, y, across, down] = look.crop ?? WHOLE;
  const [from, to] = [Math.max(0, (left - x) / across), Math.min(1, (left + width - x) / across)];
  const [above, below] = [Math.max(0, (top - y) / down), Math.min(1, (top + height - y) / down)];
  return to <= from || below <= above ? null : [from, above, to - from, below - above];
}

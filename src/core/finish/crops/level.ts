/** Where things lie after a picture was turned level: the largest upright part of the same shape about its middle is kept. */
import type { Box } from '../../measure/types.js';
import type { PixelSize } from '../types.js';

/** Width of the levelled picture over that of the picture. */
export function levelledShare({ widthPx, heightPx }: PixelSize, turnDeg: number): number {
  const [sine, cosine] = turnOf(turnDeg);
  const longer = Math.max(widthPx / heightPx, heightPx / widthPx);
  return 1 / (Math.abs(cosine) + longer * Math.abs(sine));
}

/** A box of the upright picture, in 0–1 of the levelled one; the box around it where it is turned. It may reach outside. */
export function boxLevelled([left, top, width, height]: Box, size: PixelSize, turnDeg: number): Box {
  if (turnDeg === 0) return [left, top, width, height];
  const corners = [
    [left, top],
    [left + width, top],
    [left, top + height],
    [left + width, top + height],
  ].map(([x, y]) => pointLevelled(x!, y!, size, turnDeg));
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return [x, y, Math.max(...xs) - x, Math.max(...ys) - y];
}

export function pointLevelled(x: number, y: number, size: PixelSize, turnDeg: number): readonly [number, number] {
  const [sine, cosine] = turnOf(turnDeg);
  const share = levelledShare(size, turnDeg);
  const [dx, dy] = [(x - 0.5) * size.widthPx, (y - 0.5) * size.heightPx];
  return [
    0.5 + (dx * cosine - dy * sine) / (size.widthPx * share),
    0.5 + (dx * sine + dy * cosine) / (size.heightPx * share),
  ];
}

/**
 * A crop set on a picture that stood turned by one angle, on the same picture turned by another: it keeps the middle of what it
 * shows, its shape and as many pixels of the original, as far as there is picture.
 */
export function boxTurned(box: Box, size: PixelSize, fromDeg: number, toDeg: number): Box {
  if (fromDeg === toDeg) return box;
  const [left, top, width, height] = box;
  const [x, y] = pointTurned(left + width / 2, top + height / 2, size, fromDeg, toDeg);
  const wished = levelledShare(size, fromDeg) / levelledShare(size, toDeg);
  const by = Math.min(wished, 1 / width, 1 / height);
  const [wide, high] = [width * by, height * by];
  return [within(x - wide / 2, 1 - wide), within(y - high / 2, 1 - high), wide, high];
}

const within = (value: number, most: number): number => Math.min(Math.max(0, most), Math.max(0, value));

/** Back to where it lies in the upright picture, and on to the other turn. */
function pointTurned(x: number, y: number, size: PixelSize, fromDeg: number, toDeg: number): readonly [number, number] {
  const [sine, cosine] = turnOf(fromDeg);
  const share = levelledShare(size, fromDeg);
  const [dx, dy] = [(x - 0.5) * size.widthPx * share, (y - 0.5) * size.heightPx * share];
  const upright = [
    0.5 + (dx * cosine + dy * sine) / size.widthPx,
    0.5 + (dy * cosine - dx * sine) / size.heightPx,
  ] as const;
  return pointLevelled(...upright, size, toDeg);
}

const turnOf = (turnDeg: number): readonly [sine: number, cosine: number] => [
  Math.sin((turnDeg * Math.PI) / 180),
  Math.cos((turnDeg * Math.PI) / 180),
];

/** Labels beside their marks: none over another, none over a mark, off the track where there is room. Rule PL111. */

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Mark {
  readonly x: number;
  readonly y: number;
  /** Kept free around it. */
  readonly radius: number;
  /** Null: a mark without words. */
  readonly words: { readonly width: number; readonly height: number } | null;
}

const RINGS = [3, 8, 16, 28, 44] as const;
/** Right and left first: words read best beside their mark. */
const SIDES_DEG = [90, 270, 45, 315, 135, 225, 0, 180] as const;

export const overlap = (a: Box, b: Box): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

const holds = (box: Box, x: number, y: number): boolean =>
  x >= box.x && x <= box.x + box.width && y >= box.y && y <= box.y + box.height;

/** In the order of the marks; null where no place is free. `lines` are points of lines that labels had better not cover. */
export function placeLabels(
  marks: readonly Mark[],
  lines: readonly { readonly x: number; readonly y: number }[],
  frame: Box,
): (Box | null)[] {
  const taken: Box[] = marks.map(({ x, y, radius }) => ({
    x: x - radius,
    y: y - radius,
    width: 2 * radius,
    height: 2 * radius,
  }));
  return marks.map((mark) => {
    let best: { box: Box; cost: number } | null = null;
    for (const [ring, away] of RINGS.entries())
      for (const [side, deg] of SIDES_DEG.entries()) {
        const box = boxBeside(mark, deg, away);
        if (box === null || !isInside(box, frame) || taken.some((other) => overlap(box, other))) continue;
        const covered = lines.filter(({ x, y }) => holds(box, x, y)).length;
        const cost = 20 * Math.min(covered, 3) + 8 * ring + side;
        if (best === null || cost < best.cost) best = { box, cost };
      }
    if (best !== null) taken.push(best.box);
    return best?.box ?? null;
  });
}

function boxBeside({ x, y, radius, words }: Mark, deg: number, away: number): Box | null {
  if (words === null) return null;
  const [east, south] = [Math.sin((deg * Math.PI) / 180), -Math.cos((deg * Math.PI) / 180)];
  const reach = radius + away;
  return {
    x: x + east * (reach + words.width / 2) - words.width / 2,
    y: y + south * (reach + words.height / 2) - words.height / 2,
    ...words,
  };
}

const isInside = (box: Box, frame: Box): boolean =>
  box.x >= frame.x &&
  box.y >= frame.y &&
  box.x + box.width <= frame.x + frame.width &&
  box.y + box.height <= frame.y + frame.height;

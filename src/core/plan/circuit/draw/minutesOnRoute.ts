/** Where along each leg its minutes stand: half-way, else wherever they hide no mark, no name and no other minutes. */
import type { Point } from '../../../numeric/localPlane.js';
import { lengthOf, lineBetween } from '../segments.js';
import { type Box, overlap } from './placeLabels.js';

const SHARES = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9] as const;

/** @param taken what is drawn already. Boxes in the order of the legs. */
export function minutesOnRoute(
  legs: readonly { readonly points: readonly Point[]; readonly words: string }[],
  taken: readonly Box[],
  lettering: { readonly height: number; widthOf(text: string): number },
): Box[] {
  const hidden: Box[] = [...taken];
  return legs.map(({ points, words }) => {
    const lengthPx = lengthOf(points);
    const size = { width: lettering.widthOf(words) + 4, height: lettering.height };
    const boxes = SHARES.map((share) => boxAbout(pointAt(points, share * lengthPx), size));
    const hides = (box: Box): number => hidden.filter((other) => overlap(box, other)).length;
    const best = boxes.reduce((least, box) => (hides(box) < hides(least) ? box : least));
    hidden.push(best);
    return best;
  });
}

const boxAbout = ({ x, y }: Point, { width, height }: Pick<Box, 'width' | 'height'>): Box => ({
  x: x - width / 2,
  y: y - height / 2,
  width,
  height,
});

const pointAt = (points: readonly Point[], along: number): Point => lineBetween(points, 0, along).at(-1) ?? points[0]!;

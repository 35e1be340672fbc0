/** Patches of the same surface in different pictures: a part of the bike or its rider, a decimetre each way, as the renderer says. */
import type { Visible } from '../../../demo/render/frame.js';
import type { RgbImage } from '../../../src/core/measure/index.js';
import { type Lab, LINEAR_OF_BYTE, labOfLinear, labOfXyz, xyzOfLab } from '../../../src/core/numeric/colour.js';

/** Of the bytes a place is told by: 2.4 m, 1.7 m and 1.4 m in 255 steps. */
const DECIMETRE = [10.6, 15, 18.2] as const;
/** A full decimetre has about 140; what is seen to less than a third is not the same surface in two pictures. */
const LEAST_PIXELS = 50;
const WHOLE = 0.98;

export interface Patch {
  readonly lab: Lab;
  readonly pixels: number;
  /** Whether paint, clothes or helmet: what a livery is. */
  readonly paint: string;
}

/** Mean light of each surface's pixels, by the surface. */
export function patchesOf({ data }: RgbImage, { whole, surfaces }: Visible): ReadonlyMap<string, Patch> {
  const sums = new Map<string, { light: [number, number, number]; pixels: number; paint: string }>();
  for (let index = 0; index < whole.length; index += 1) {
    if (whole[index]! < WHOLE || surfaces.part[index] === 0) continue;
    const cell = surfaces.place.map((plane, axis) => Math.floor(plane[index]! / DECIMETRE[axis as 0 | 1 | 2]));
    const paint = surfaces.paint.map((plane) => plane[index]! >> 4).join(' ');
    const key = `${surfaces.part[index]} ${cell.join(' ')} ${paint}`;
    const own = sums.get(key) ?? { light: [0, 0, 0], pixels: 0, paint: `${surfaces.part[index]} ${paint}` };
    for (let channel = 0; channel < 3; channel += 1) own.light[channel]! += LINEAR_OF_BYTE[data[3 * index + channel]!]!;
    own.pixels += 1;
    sums.set(key, own);
  }
  return new Map(
    [...sums]
      .filter(([, { pixels }]) => pixels >= LEAST_PIXELS)
      .map(([key, { light, pixels, paint }]) => [
        key,
        { lab: labOfLinear([light[0] / pixels, light[1] / pixels, light[2] / pixels]), pixels, paint },
      ]),
  );
}

/** Fewer pixels of a paint are a line or a sticker. */
const LEAST_OF_PAINT = 40;

/** Paints as a whole: of the surfaces that both pictures show, each weighed alike in both. */
export function liveriesOf(
  own: ReadonlyMap<string, Patch>,
  other: ReadonlyMap<string, Patch>,
): ReadonlyMap<string, Patch> {
  const sums = new Map<string, { xyz: [number, number, number]; pixels: number }>();
  for (const [surface, { lab, pixels, paint }] of own) {
    const same = other.get(surface);
    if (!same) continue;
    const weight = Math.min(pixels, same.pixels);
    const sum = sums.get(paint) ?? { xyz: [0, 0, 0], pixels: 0 };
    for (const [axis, value] of xyzOfLab(lab).entries()) sum.xyz[axis]! += weight * value;
    sum.pixels += weight;
    sums.set(paint, sum);
  }
  return new Map(
    [...sums]
      .filter(([, { pixels }]) => pixels >= LEAST_OF_PAINT)
      .map(([paint, { xyz, pixels }]) => {
        const lab = labOfXyz([xyz[0] / pixels, xyz[1] / pixels, xyz[2] / pixels]);
        return [paint, { lab, pixels, paint }];
      }),
  );
}

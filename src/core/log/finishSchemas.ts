/** What a said finish and a said crop must look like. The bounds are those beyond which a picture is spoilt, not improved. */
import { z } from 'zod';
import { FINISHED_ALIKE, HUES, RATIOS } from './finishSaid.js';

const between = (least: number, most: number) =>
  z.number().min(least, `expected ${least} or more`).max(most, `expected ${most} or less`);

const strengths = z.strictObject(
  Object.fromEntries(HUES.map((hue) => [hue, between(0, 2)])) as Record<(typeof HUES)[number], z.ZodNumber>,
);

const finish = z.strictObject({
  name: z.string().min(1, 'expected a name').max(60),
  alike: between(0, 1),
  warmth: between(-1, 1),
  tint: between(-0.5, 0.5),
  exposureEv: between(-2, 2),
  tones: z.strictObject({ contrast: between(0.7, 1.5), brightParts: between(0, 0.5), shade: between(0, 1) }),
  strengths,
  sharpness: between(0, 1),
  grain: between(0, 1),
  isLevelled: z.boolean(),
  leadRoom: between(1, 2.5),
  ratios: z.array(z.enum(RATIOS)).max(RATIOS.length),
});

const share = z.number().min(0).max(1);
const box = z
  .tuple([share, share, share, share])
  .refine(
    ([left, top, width, height]) => width > 0 && height > 0 && left + width <= 1 + 1e-9 && top + height <= 1 + 1e-9,
    'expected a part of the picture',
  );

/** Members of the decisions `finish`, `finish-of` and `crop-of`, beside what they are about. */
export const finishMembers = { of: z.enum(FINISHED_ALIKE), finish };
export const finishOfMembers = { finish };
export const cropOfMembers = { ratio: z.enum(RATIOS), box: box.nullable(), turnDeg: between(-45, 45).optional() };

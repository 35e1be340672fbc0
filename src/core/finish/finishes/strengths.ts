/** Strength of colour by hue: chroma in CIE LCh (D65) is multiplied, lightness and hue stay. */
import { type Lab, type LinearRgb, labOfLinear, lchOfLab, linearOfXyz, xyzOfLab } from '../../numeric/colour.js';
import { HUES, type Hue, type Strengths } from './types.js';

/** Hue angles of ordinary paints under these names; between two of them strengths blend. */
const ANGLE_DEG: Readonly<Record<Hue, number>> = {
  red: 32,
  orange: 60,
  yellow: 90,
  green: 135,
  teal: 200,
  blue: 280,
  purple: 315,
  pink: 355,
};

export const areEven = (strengths: Strengths): boolean => HUES.every((hue) => strengths[hue] === 1);

export function strengthAt(hueDeg: number, strengths: Strengths): number {
  const after = HUES.findIndex((hue) => ANGLE_DEG[hue] > hueDeg);
  const next = HUES[after === -1 ? 0 : after]!;
  const before = HUES[(after === -1 ? HUES.length : after || HUES.length) - 1]!;
  const span = (ANGLE_DEG[next] - ANGLE_DEG[before] + 360) % 360;
  const share = ((hueDeg - ANGLE_DEG[before] + 360) % 360) / span;
  return strengths[before] * (1 - share) + strengths[next] * share;
}

export function strengthened(light: LinearRgb, strengths: Strengths): LinearRgb {
  const lab = labOfLinear(light);
  const strength = strengthAt(lchOfLab(lab)[2], strengths);
  return linearOfXyz(xyzOfLab([lab[0], lab[1] * strength, lab[2] * strength]));
}

const isInside = (light: LinearRgb): boolean => light.every((channel) => channel >= -1e-6 && channel <= 1 + 1e-6);
const STEPS = 12;

/** The same lightness and hue with as much chroma as sRGB holds. */
export function intoGamut(light: LinearRgb): LinearRgb {
  if (isInside(light)) return light;
  const lab = labOfLinear(light);
  const lightness = Math.min(100, Math.max(0, lab[0]));
  const paler = (share: number): LinearRgb =>
    linearOfXyz(xyzOfLab([lightness, lab[1] * share, lab[2] * share] satisfies Lab));
  let [inside, outside] = [0, 1];
  for (let step = 0; step < STEPS; step += 1) {
    const middle = (inside + outside) / 2;
    if (isInside(paler(middle))) inside = middle;
    else outside = middle;
  }
  return paler(inside);
}

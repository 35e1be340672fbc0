/**
 * What a light is worth to the day's solver, 0 to 1. A convention of this program, no measurement: a lit side is best, a side in
 * shade still makes pictures, low sun into the lens seldom does, an overcast sky is even and a little flat. Whoever likes it
 * otherwise weighs the spot.
 */
import { type UnitInterval, unitIntervalOf } from '../../units.js';
import type { SpotLight } from './types.js';

export const LIGHT_WORTH = {
  lit: 1,
  even: 0.75,
  inShade: 0.45,
  lowIntoLens: 0.15,
  /** Cosine on the side from which it counts as fully lit: 45°. */
  fullyLitFrom: Math.SQRT1_2,
  /** From this on the sun leaves eyes and bellies dark, fully from ten degrees more. */
  highFromDeg: 55,
  highFullyDeg: 65,
  high: 0.85,
} as const;

export const worthOfLight = (light: SpotLight): UnitInterval => {
  switch (light.kind) {
    case 'night':
      return unitIntervalOf(0);
    case 'even':
      return unitIntervalOf(LIGHT_WORTH.even);
    case 'sun': {
      const direct = worthOfSun(light);
      return unitIntervalOf(light.isSoft ? (direct + LIGHT_WORTH.even) / 2 : direct);
    }
  }
};

const worthOfSun = ({ sun, onSide, isLowIntoLens }: Extract<SpotLight, { kind: 'sun' }>): number => {
  if (isLowIntoLens) return LIGHT_WORTH.lowIntoLens;
  const lit = Math.min(1, Math.max(0, onSide / LIGHT_WORTH.fullyLitFrom));
  const worth = LIGHT_WORTH.inShade + (LIGHT_WORTH.lit - LIGHT_WORTH.inShade) * lit;
  const { highFromDeg, highFullyDeg, high } = LIGHT_WORTH;
  const harsh = Math.min(1, Math.max(0, (sun.altitudeDeg - highFromDeg) / (highFullyDeg - highFromDeg)));
  return worth * (1 - (1 - high) * harsh);
};

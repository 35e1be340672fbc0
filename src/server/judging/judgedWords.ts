/** What a close look tells beside places on the picture. What cannot be known is left out. */
import type { Judged } from '../../core/judge/index.js';
import { unitIntervalOf } from '../../core/units.js';
import type { Spoken } from '../types.js';
import { printed } from '../views/spoken.js';

/** Upright, as far as it can be measured. */
const UPRIGHT_DEG = 5;

export const judgedWords = ({ side, lean }: Judged): readonly Spoken[] => [
  ...(side.kind === 'told'
    ? [
        {
          voice: 'pencilled',
          text: `its ${side.is} side`,
          confidence: unitIntervalOf(side.confidence),
          reasons: [`what stands behind it moves to the ${side.is === 'left' ? 'right' : 'left'} in its burst`],
        } as const,
      ]
    : []),
  ...(lean.kind === 'lean' ? [printed(leanWords(lean.leanDeg))] : []),
];

function leanWords(leanDeg: number): string {
  if (Math.abs(leanDeg) < UPRIGHT_DEG) return 'upright';
  const side = leanDeg < 0 ? 'left' : 'right';
  return `leans ${Math.round(Math.abs(leanDeg))}° to the ${side} of the picture, rider and all`;
}

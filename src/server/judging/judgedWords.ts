/** What a close look tells beside places on the picture. What cannot be known is left out. */
import type { Judged } from '../../core/judge/index.js';
import { unitIntervalOf } from '../../core/units.js';
import type { Spoken } from '../types.js';
import { printed } from '../views/spoken.js';

/** Upright, as far as it can be measured. */
const UPRIGHT_DEG = 5;

/** Right 7 times of 7, and 3 of 3, on renders that nothing was tuned on (`docs/rules/judge.md`): one more of each way is added, for they are few. */
const HEAD_RIGHT = 8 / 9;
const LIMB_RIGHT = 4 / 5;

export const judgedWords = ({ side, lean, limb, head }: Judged): readonly Spoken[] => [
  ...(side.kind === 'told'
    ? [
        pencilled(
          `its ${side.is} side`,
          side.confidence,
          `what stands behind it moves to the ${side.is === 'left' ? 'right' : 'left'} in its burst`,
        ),
      ]
    : []),
  ...(lean.kind === 'lean' ? [printed(leanWords(lean.leanDeg))] : []),
  ...(head.kind === 'towards' ? [pencilled('face to the camera', HEAD_RIGHT, VISOR_SEEN)] : []),
  ...(limb.kind === 'out' ? [pencilled('knee or elbow out', LIMB_RIGHT, LIMB_SEEN)] : []),
];

const VISOR_SEEN = 'a dark visor lies across the middle of the helmet';
const LIMB_SEEN = 'the outline steps out below the helmet on the inside of the turn';

const pencilled = (text: string, confidence: number, reason: string): Spoken => ({
  voice: 'pencilled',
  text,
  confidence: unitIntervalOf(confidence),
  reasons: [reason],
});

function leanWords(leanDeg: number): string {
  if (Math.abs(leanDeg) < UPRIGHT_DEG) return 'upright';
  const side = leanDeg < 0 ? 'left' : 'right';
  return `leans ${Math.round(Math.abs(leanDeg))}° to the ${side} of the picture, rider and all`;
}

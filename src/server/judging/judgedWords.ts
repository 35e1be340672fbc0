/** What a close look tells beside places on the picture. What cannot be known is left out. */
import type { Judged, Told } from '../../core/judge/index.js';
import { unitIntervalOf } from '../../core/units.js';
import type { Spoken } from '../types.js';
import { printed } from '../views/spoken.js';

/** Upright, as far as anybody can see. */
const UPRIGHT_DEG = 3;

export function judgedWords({ side, lean, head }: Judged): readonly Spoken[] {
  return [
    ...(side.kind === 'told' ? [guessed(side, `its ${side.is} side`, `it heads ${side.is} in the picture`)] : []),
    ...(lean.kind === 'lean' ? [printed(leanWords(lean.leanDeg))] : []),
    ...(head.kind === 'told' ? [guessed(head, HEAD[head.is], 'by where the visor lies on the helmet')] : []),
  ];
}

const HEAD = { towards: 'head towards the camera', away: 'head turned away' } as const;

const guessed = (told: Told<string>, text: string, reason: string): Spoken => ({
  voice: 'pencilled',
  text,
  confidence: unitIntervalOf(told.confidence),
  reasons: [reason],
});

function leanWords(leanDeg: number): string {
  if (Math.abs(leanDeg) < UPRIGHT_DEG) return 'upright';
  return `leans ${Math.round(Math.abs(leanDeg))}° to the ${leanDeg < 0 ? 'left' : 'right'} of the picture`;
}

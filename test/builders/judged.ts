/** What judging would say of a bike, made by hand for tests. */
import type { Judged } from '../../src/core/judge/types.js';

export interface JudgedSpec {
  /** 1 is as fine as edges get here. */
  readonly fine?: number;
  readonly cut?: 'helmet' | 'wheel' | 'bike';
  /** Share of the bike that a post hides. */
  readonly post?: number;
  readonly side?: 'left' | 'right';
  readonly isLimbOut?: boolean;
  readonly isHeadTowards?: boolean;
}

const NOT_TOLD = { kind: 'absent', reason: 'not told' } as const;

export function judgedOf(spec: JudgedSpec = {}): Judged {
  const { fine = 1, cut, post, side, isLimbOut = false, isHeadTowards = false } = spec;
  return {
    focus: {
      kind: 'focus',
      fineness: { alongX: fine, alongDown: fine, alongY: fine, alongUp: fine, overall: fine },
      areas: [],
    },
    edge: cut ? { kind: 'cut', what: cut, share: 0.2, where: [0, 0, 0.1, 0.2] } : { kind: 'whole', margin: 0.2 },
    size: 0.3,
    aspect: 1.2,
    inFront: post === undefined ? [] : [{ what: 'post or person', share: post, where: [0.4, 0.2, 0.05, 0.6] }],
    bright: { share: 0 },
    side: side ? { kind: 'told', is: side, confidence: 0.95 } : NOT_TOLD,
    lean: NOT_TOLD,
    limb: isLimbOut ? { kind: 'out', where: [0.4, 0.4, 0.1, 0.1] } : NOT_TOLD,
    head: isHeadTowards ? { kind: 'towards', where: [0.5, 0.2, 0.1, 0.05] } : NOT_TOLD,
  };
}

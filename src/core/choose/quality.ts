/**
 * What one frame of a rider is worth by itself, 0–1. How sharp the rider's frames are here against others' is what coverage
 * says; which of them is the best is what judging at full resolution says, where it was asked. Rules CH6, CH20.
 */
import type { GoodFrameJudgement } from '../cover/types.js';
import { type Judged, orderByWorth, type Worth } from '../judge/index.js';
import type { Subject } from '../measure/types.js';

export interface Quality {
  readonly worth: number;
  /** Coverage's judgement, mended where a closer look says otherwise. */
  readonly judgement: GoodFrameJudgement;
  /** How much of the picture it fills, 0–1 of well filled. */
  readonly framing: number;
  /** What a closer look said; null: there was none. */
  readonly looked: { readonly judged: Judged; readonly left: Worth['left']; readonly blur: Worth['blur'] } | null;
}

export interface LookedAt {
  readonly judgement: GoodFrameJudgement;
  readonly subject: Subject | null;
  readonly judged: Judged | null;
}

/** What a closer look takes from a frame is not known of one that had none, beside others that had. */
const NOT_LOOKED_AT = 0.85;

/** A frame not looked at closely: from the small picture alone. */
export function qualityOf({ judgement, subject }: Pick<LookedAt, 'judgement' | 'subject'>, share = 1): Quality {
  const framing = sizeWorth(subject) * (marginOf(subject) < TIGHT_MARGIN ? 0.8 : 1);
  return {
    worth: share * sharpnessWorth(judgement) * (0.5 + 0.5 * framing),
    judgement,
    framing,
    looked: null,
  };
}

/**
 * Frames of one rider that may be compared: one spot, lens and shutter, or one pass. Their best reaches what coverage gives
 * the best of them; of each, what judging leaves of that.
 */
export function qualitiesOf(together: readonly LookedAt[]): readonly Quality[] {
  const looked = together.flatMap((one, at) => (one.judged ? [{ at, judged: one.judged }] : []));
  if (looked.length === 0) return together.map((one) => qualityOf(one));
  const order = orderByWorth(looked.map(({ judged }) => judged));
  const left = new Map(order.map((worth) => [looked[worth.index]!.at, worth]));
  const level = Math.max(...together.map(({ judgement }) => sharpnessWorth(judgement)));
  const hasGood = looked.some(({ at }) => together[at]!.judgement.kind === 'good');
  return together.map((one, at) => {
    const seen = left.get(at);
    return one.judged && seen
      ? closeQuality({ ...one, judged: one.judged }, seen, level, hasGood)
      : qualityOf(one, NOT_LOOKED_AT);
  });
}

/** What riders like to have of themselves, told of few frames: enough to choose between equal ones. The project's choice. */
const LIKED = 0.04;
const likedIn = ({ limb, head }: Judged): readonly string[] => [
  ...(head.kind === 'towards' ? ['face to the camera'] : []),
  ...(limb.kind === 'out' ? ['knee or elbow out'] : []),
];

function closeQuality(
  { judgement, subject, judged }: LookedAt & { readonly judged: Judged },
  { left, blur }: Worth,
  level: number,
  hasGood: boolean,
): Quality {
  const framing = sizeWorth(subject);
  const worth = level * left.focus * left.edge * left.inFront * left.bright * (0.5 + 0.5 * framing);
  return {
    worth: Math.min(1, worth * (1 + LIKED * likedIn(judged).length)),
    judgement: mend(judgement, judged, left.focus === 1 && hasGood),
    framing,
    looked: { judged, left, blur },
  };
}

/** Losses smaller than this are not worth a word. */
const SAID_FROM = 0.08;

export function qualityWords({ judgement, framing, looked }: Quality): readonly string[] {
  const plain = [judgement.reason, `framing ${percent(framing)} of 100`];
  if (looked === null) return plain;
  const { judged, left, blur } = looked;
  const lost = (share: number, words: string): readonly string[] =>
    1 - share < SAID_FROM ? [] : [`${words}: ${percent(1 - share)} % lost`];
  return [
    ...plain,
    ...lost(left.focus, BLUR_WORDS[blur?.kind ?? 'as-sharp']),
    ...lost(left.edge, judged.edge.kind === 'cut' ? `${judged.edge.what} cut` : 'close to the edge'),
    ...lost(left.inFront, `${judged.inFront.map(({ what }) => what).join(' and ')} across it`),
    ...lost(left.bright, 'bright parts burnt'),
    ...likedIn(judged),
  ];
}

const BLUR_WORDS = {
  'as-sharp': 'others are sharper',
  'missed-focus': 'out of focus',
  moved: 'blurred by movement',
} as const;

/** What coverage took from a small picture is mended by a look at the full one. */
function mend(judgement: GoodFrameJudgement, judged: Judged, isAsSharpAsGood: boolean): GoodFrameJudgement {
  if (judged.edge.kind === 'cut') return { kind: 'cut', reason: `${judged.edge.what} cut by the edge of the picture` };
  if (judgement.kind === 'soft' && isAsSharpAsGood)
    return { ...judgement, kind: 'good', reason: 'at full resolution as sharp as a good frame beside it' };
  return judgement;
}

const percent = (share: number): number => Math.round(share * 100);

/** A frame that is not good is worth little, but something: every rider must appear. */
function sharpnessWorth(judgement: GoodFrameJudgement): number {
  switch (judgement.kind) {
    case 'good':
      return judgement.standing === null ? 0.75 : Math.min(1, 0.5 + judgement.standing / 2);
    case 'soft':
      return judgement.standing === null ? 0.15 : judgement.standing / 2;
    case 'unsure':
      return 0.2;
    case 'cut':
      return 0.1;
  }
}

/** The height a bike has in a well filled frame; smaller is worth less, larger no more. Common practice, no source. */
const WELL_FILLED_HEIGHT = 0.45;
/** A margin from the picture's edge below which the frame feels tight. Common practice, no source. */
const TIGHT_MARGIN = 0.03;
const NOT_MAIN = 0.85;

function sizeWorth(subject: Subject | null): number {
  if (!subject) return 0.3;
  const [, , width, height] = subject.box;
  return Math.min(1, Math.max(width / 1.5, height) / WELL_FILLED_HEIGHT) * (subject.isMain ? 1 : NOT_MAIN);
}

function marginOf(subject: Subject | null): number {
  if (!subject) return 1;
  const [left, top, width, height] = subject.box;
  return Math.min(left, top, 1 - left - width, 1 - top - height);
}

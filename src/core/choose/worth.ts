/**
 * What a frame of a rider is worth: sharpness and framing by themselves, less for what is shown already.
 *
 * Each further frame of a spot, a session or a view is worth a fixed share of the one before it, so the sum has
 * diminishing returns and a greedy choice comes within 1 − 1/e of the best one (Nemhauser, Wolsey & Fisher,
 * Mathematical Programming 14, 1978, for monotone submodular functions under a cardinality limit; cited from
 * memory). The weights are this project's choice.
 */
import type { BikeRef, Pass } from '../arrange/types.js';
import type { GoodFrameJudgement } from '../cover/types.js';
import type { Subject } from '../measure/types.js';

/** A frame that may be chosen, with all that its worth depends on. */
export interface Candidate {
  readonly bike: BikeRef;
  readonly pass: Pass;
  readonly subject: Subject | null;
  readonly judgement: GoodFrameJudgement;
  /** Place in the day's order; breaks ties, so that the choice is the same every time. */
  readonly order: number;
}

const AGAIN = { spot: 0.6, session: 0.85, view: 0.8 } as const;

/** 0–1: a frame that is not good is worth little, but something: every rider must appear. */
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

function framingWorth(subject: Subject | null): number {
  if (!subject) return 0.3;
  const [left, top, width, height] = subject.box;
  const size = Math.min(1, Math.max(width / 1.5, height) / WELL_FILLED_HEIGHT);
  const margin = Math.min(left, top, 1 - left - width, 1 - top - height);
  return size * (margin < TIGHT_MARGIN ? 0.8 : 1) * (subject.isMain ? 1 : 0.85);
}

/**
 * How the bike is seen, from the shape of its box alone: narrow is towards or away from the camera, wide is
 * from the side. Boxes are in shares of the picture, so this holds among pictures of one shape.
 */
function viewOf(subject: Subject | null): 'narrow' | 'between' | 'wide' | 'unknown' {
  if (!subject) return 'unknown';
  const ratio = subject.box[2] / Math.max(subject.box[3], 1e-6);
  if (ratio < 0.55) return 'narrow';
  return ratio < 0.95 ? 'between' : 'wide';
}

const VIEW_WORDS = {
  narrow: 'end on',
  between: 'three-quarter',
  wide: 'side on',
  unknown: 'view not measured',
} as const;

/** A frame on offer, with how often its spot, session and view are among those already taken. */
export interface Offer {
  readonly one: Candidate;
  readonly view: ReturnType<typeof viewOf>;
  /** Worth by itself, 0–1. */
  readonly quality: number;
  readonly shown: { spot: number; session: number; view: number };
  /** Its frame is taken, or one that looks the same. */
  isShown: boolean;
}

export const offerOf = (one: Candidate): Offer => ({
  one,
  view: viewOf(one.subject),
  quality: sharpnessWorth(one.judgement) * (0.5 + 0.5 * framingWorth(one.subject)),
  shown: { spot: 0, session: 0, view: 0 },
  isShown: false,
});

/** What taking one frame means for the others. */
export function takeInto(offers: readonly Offer[], taken: Offer): void {
  for (const offer of offers) {
    if (offer.one.pass.spot === taken.one.pass.spot) offer.shown.spot += 1;
    if (offer.one.pass.session === taken.one.pass.session) offer.shown.session += 1;
    if (offer.view === taken.view) offer.shown.view += 1;
    offer.isShown ||= offer.one.bike.frameId === taken.one.bike.frameId || isNearDuplicate(taken.one, offer.one);
  }
}

/** Worth of one more frame beside those already taken, 0–1. */
export function worthOf({ quality, shown }: Offer): number {
  const variety = AGAIN.spot ** shown.spot * AGAIN.session ** shown.session * AGAIN.view ** shown.view;
  return quality * variety;
}

/** The same in words, for the screen. */
export function reasonsFor({ one, view, shown }: Offer): readonly string[] {
  const seen = VIEW_WORDS[view];
  return [
    one.judgement.reason,
    `framing ${Math.round(framingWorth(one.subject) * 100)} of 100`,
    ...(one.pass.spot === null
      ? []
      : [shown.spot === 0 ? 'first from this spot' : `${shown.spot} from this spot already`]),
    shown.session === 0 ? 'first of this session' : `${shown.session} of this session already`,
    shown.view === 0 ? `first ${seen}` : seen,
  ];
}

/** Two frames of one pass look alike, unless the bike has grown or shrunk by this much between them. */
const LOOKS_DIFFERENT_FROM = 1.5;

function isNearDuplicate(a: Candidate, b: Candidate): boolean {
  if (a.pass.index !== b.pass.index) return false;
  if (!a.subject || !b.subject) return true;
  const [small = 0, large = 0] = [a.subject.box[3], b.subject.box[3]].sort((x, y) => x - y);
  return large < small * LOOKS_DIFFERENT_FROM;
}

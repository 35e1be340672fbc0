/**
 * What is judged of one bike in one frame, each with where on the picture it can be seen. Boxes are in upright 0–1 coordinates
 * of the whole picture. What cannot be measured well is absent and says why.
 */
import type { FrameId } from '../ids.js';
import type { PartsSeen } from '../measure/bikeSeen.js';
import type { RgbImage } from '../measure/index.js';
import type { Absent, Box, Subject } from '../measure/types.js';
import type { Degrees, EpochMs } from '../units.js';
import type { SmallFrame } from './tellSide.js';

/** Full-resolution pixels around one subject. */
export interface JudgedCrop {
  readonly picture: RgbImage;
  /** Where the crop lies in the whole picture. */
  readonly at: Box;
  /** What the bike network says of it, in the crop's pixels; absent where it was not asked. */
  readonly parts?: PartsSeen;
}

/** What of a subject's measurement is asked for. */
export type JudgedSubject = Pick<Subject, 'box' | 'what' | 'numbers'>;

export interface JudgeInput {
  readonly crop: JudgedCrop;
  readonly subject: JudgedSubject;
  /** The other subjects of the frame. */
  readonly others: readonly JudgedSubject[];
  /** It and its neighbours in time, small; empty where the burst was slow or nobody knows. */
  readonly burst: readonly SmallFrame[];
}

/** How finely edges are drawn in each direction: energy of steps one pixel wide over steps eight wide; higher is sharper. */
export interface Fineness {
  readonly alongX: number;
  readonly alongDown: number;
  readonly alongY: number;
  readonly alongUp: number;
  /** Harmonic mean: the worst direction counts most. */
  readonly overall: number;
}

export interface Focus {
  readonly kind: 'focus';
  readonly fineness: Fineness;
  /** Looked at more than the rest: helmet, numbers. Empty where neither is known. */
  readonly areas: readonly SharpArea[];
}

export interface SharpArea {
  readonly what: 'helmet' | 'number';
  readonly box: Box;
  /** From a tenth to nine tenths of an edge's height, in pixels of the whole picture: middle of its clearest edges. Absent: too few. */
  readonly edgePx?: number;
}

export interface Cut {
  readonly kind: 'cut';
  readonly what: 'helmet' | 'wheel' | 'bike';
  /** Of the subject's height or width, the share that lies on the picture's edge. */
  readonly share: number;
  readonly where: Box;
}
export interface Whole {
  readonly kind: 'whole';
  /** Least distance to the picture's edge, share of its width or height. */
  readonly margin: number;
}

export interface InFront {
  readonly what: 'post or person' | 'bike' | 'person';
  /** Share of the subject's box that it covers. */
  readonly share: number;
  readonly where: Box;
}

export interface Judged {
  readonly focus: Focus | Absent<'too-small' | 'no-structure'>;
  readonly edge: Cut | Whole;
  /** Side of the square as large as the subject, share of that of the picture. */
  readonly size: number;
  readonly inFront: readonly InFront[];
  /** Width of the subject's box over its height, in pixels. */
  readonly aspect: number;
  /** Of the subject, the share whose brightest channel is all but burnt, and where most of it lies. */
  readonly bright: { readonly share: number; readonly where?: Box };
  /** Its left side where it heads left in the picture. Absent where no quick burst tells. */
  readonly side: Told<'left' | 'right'> | Absent;
  /** From upright, positive towards the right of the picture. */
  readonly lean: Lean | Absent;
  /** Knee or elbow, on the inside of a turn. Absent does not mean that both are held in. */
  readonly limb: Out | Absent;
  /** The rider's face. Absent does not mean that it is turned away. */
  readonly head: Towards | Absent;
}

/** Judged where it is clear, and how surely. */
export interface Told<What extends string> {
  readonly kind: 'told';
  readonly is: What;
  /** 0–1. */
  readonly confidence: number;
}

export interface Lean {
  readonly kind: 'lean';
  readonly leanDeg: Degrees;
  /** From where its wheels stand to its rider's helmet, in the whole picture. */
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
}

export interface Out {
  readonly kind: 'out';
  readonly where: Box;
}

export interface Towards {
  readonly kind: 'towards';
  /** The visor, by which it was told. */
  readonly where: Box;
}

/** One bike of one frame as it was judged and is stored. Version: `JUDGE_VERSION`. */
export type BikeJudgement = (
  | { readonly kind: 'judged'; readonly judged: Judged }
  /** Remembered, so that it is not tried for ever. */
  | { readonly kind: 'unjudgeable'; readonly reason: string }
) & {
  readonly v: number;
  readonly frameId: FrameId;
  /** Of the bike as measuring found it: names it, whatever place a newer measuring gives it. */
  readonly box: Box;
};

/** A line of `measured/<writer>.jsonl`. */
export interface JudgedLine {
  readonly kind: 'judged';
  readonly at: EpochMs;
  readonly bike: BikeJudgement;
}

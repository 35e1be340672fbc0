/** What a person is asked, screen by screen, from an arrangement: most correct frames for their time first. */
import type { Arrangement, Question } from '../arrange/types.js';
import type { FrameId, RiderKey } from '../ids.js';
import type { FoldedLog } from '../log/types.js';
import type { FrameMeasurement } from '../measure/types.js';

export interface AskInput {
  readonly arrangement: Arrangement;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
}

export interface Candidate {
  readonly rider: RiderKey;
  /** That it is the rider of the line-up, 0–1. */
  readonly chance: number;
  /** Frames that come right if it is. */
  readonly frames: number;
}

/** What a screen is worth and what it costs. */
export interface Price {
  /** Frames expected to come right. */
  readonly gainFrames: number;
  /** Of a person's time. */
  readonly seconds: number;
  /** Frames a second: the order of all screens. */
  readonly worth: number;
}

export type Screen = Price & { readonly id: string } & (
    | {
        /** One rider and the likeliest others: which of them are it? With one candidate: yes or no. */
        readonly kind: 'line-up';
        readonly of: RiderKey;
        readonly shown: readonly Candidate[];
      }
    | {
        /** A pass in nobody's set: which of these riders' is it? Likeliest first. */
        readonly kind: 'whose-pass';
        /** Index in `Arrangement.passes`. */
        readonly pass: number;
        readonly riders: readonly RiderKey[];
      }
    | {
        /** Passes of a set that hold loosely: is one of them somebody else's? Least sure first. */
        readonly kind: 'odd-one-out';
        readonly rider: RiderKey;
        readonly passes: readonly number[];
        /** The set's other passes, surest first. */
        readonly rest: readonly number[];
      }
    | {
        /** A clock, a border between sessions, a contradiction. */
        readonly kind: 'plain';
        readonly question: Exclude<Question, { kind: 'same-rider' }>;
      }
  );

/**
 * The decision log: what people said. Append-only lines, one file per writer; the truth from which everything
 * else is derived. Decisions name files, points, times and bodies, never clusters.
 */

import type {
  BodyKey,
  FileId,
  FillId,
  FrameId,
  GestureId,
  PersonId,
  RiderId,
  RiderKey,
  SpotId,
  WriterId,
} from '../ids.js';
import type { Circuit } from '../plan/circuit/types.js';
import type { Stay, Wish } from '../plan/day/types.js';
import type { Sky } from '../plan/light/types.js';
import type { EntryLine, Slip } from '../plan/timetable/types.js';
import type { Spot, Timetable } from '../plan/types.js';
import type { EpochMs, Milliseconds, WallMs } from '../units.js';
import type { ApartSaid } from './apartSaid.js';
import type { CircuitEdit } from './circuitEdits.js';
import type { Finish, FinishedAlike, Ratio } from './finishSaid.js';
import type { MinorSaid } from './minorSaid.js';

/** A bike in a frame: a point in upright 0–1 coordinates of the main image, with what was seen there then. */
export interface BikePoint {
  readonly file: FileId;
  readonly x: number;
  readonly y: number;
  /** The box the person pointed into, `[left, top, width, height]` in 0–1, if one was drawn. */
  readonly box?: readonly [number, number, number, number];
  /** Width ÷ height of the upright image at that moment. */
  readonly aspect?: number;
}

export type Decision =
  | { readonly kind: 'same-rider'; readonly points: readonly BikePoint[] }
  | { readonly kind: 'different-riders'; readonly points: readonly BikePoint[] }
  | {
      readonly kind: 'line-up';
      readonly of: BikePoint;
      readonly shown: readonly BikePoint[];
      /** Indices into `shown`. What is neither chosen nor unsure was said to be somebody else. */
      readonly chosen: readonly number[];
      readonly unsure: readonly number[];
    }
  | {
      readonly kind: 'rider-is';
      readonly point: BikePoint;
      readonly rider?: RiderId;
      readonly person?: PersonId;
      readonly number?: string;
      readonly class?: string;
    }
  | {
      readonly kind: 'rider-minted';
      readonly rider: RiderId;
      readonly points: readonly BikePoint[];
      /** The key under which the rider was shown when minted. Nothing is looked up by it; the rider's code goes on hanging on it. */
      readonly shownAs?: RiderKey;
    }
  /** Corrected wall time of a border between two sessions, or a place where there is none. */
  | { readonly kind: 'boundary'; readonly at: WallMs; readonly is: 'here' | 'not-here' }
  | { readonly kind: 'session-is'; readonly at: WallMs; readonly group: string }
  /** The organiser's count of a group's riders on the track, from this moment on. */
  | { readonly kind: 'head-count'; readonly at: WallMs; readonly group: string; readonly riders: number }
  | { readonly kind: 'instructor'; readonly point: BikePoint; readonly is: boolean }
  | {
      readonly kind: 'body-clock';
      readonly body: BodyKey;
      readonly fromFrame?: FrameId;
      readonly toFrame?: FrameId;
      /** Added to the recorded time: a body an hour fast has −3,600,000. */
      readonly offsetMs: Milliseconds;
      readonly driftPpm?: number;
    }
  | { readonly kind: 'fill-body'; readonly fill: FillId; readonly body: BodyKey }
  | {
      readonly kind: 'stood-at';
      readonly spot: SpotId;
      readonly body?: BodyKey;
      readonly from: WallMs;
      readonly to: WallMs;
    }
  | { readonly kind: 'timetable'; readonly timetable: Timetable }
  /** All spots of the meeting, in place of those said before and of those in `meeting.json`. */
  | { readonly kind: 'spots'; readonly spots: readonly Spot[] }
  /** The whole drawing, in place of the one before. Its spots are the meeting's. */
  | { readonly kind: 'circuit'; readonly circuit: Circuit }
  /** Part of that drawing, otherwise. Whoever reads the folded log sees the whole drawing in its place. */
  | CircuitEdit
  /** The permit for ways and spots that need one: had for this meeting, or not. */
  | { readonly kind: 'permit'; readonly has: boolean }
  /** The day went otherwise than the timetable said before this line. */
  | { readonly kind: 'slip'; readonly slip: Slip }
  /** The whole entry list, in place of the one before. */
  | { readonly kind: 'entries'; readonly entries: readonly EntryLine[] }
  /** All wishes for the plan, in place of those before. */
  | {
      readonly kind: 'wishes';
      readonly wishes: readonly Wish[];
      readonly photographers?: number;
      /** A van may be driven where the ways allow it; absent: nobody said, and all is on foot. */
      readonly hasVehicle?: boolean;
    }
  /** How quick a group goes by a spot, as a person says; the later word stands. */
  | { readonly kind: 'speed-at'; readonly spot: SpotId; readonly group: string; readonly kmh: number }
  | { readonly kind: 'sky'; readonly from: WallMs; readonly to: WallMs; readonly is: Sky }
  /** The plan a person took as theirs: a snapshot. */
  | { readonly kind: 'plan-taken'; readonly at: WallMs; readonly stays: readonly Stay[] }
  /** "Got it", tapped at the side of the track: a person's word, no picture proves it yet. */
  | {
      readonly kind: 'got';
      readonly at: WallMs;
      readonly spot?: SpotId;
      readonly rider?: RiderId;
      readonly number?: string;
      readonly class?: string;
    }
  /** What a card of ours says in this frame was taken, or is not to be asked about again. */
  | { readonly kind: 'card-answered'; readonly frame: FrameId; readonly is: 'taken' | 'not-taken' }
  /** The frame is kept apart from the sessions and shows this, or belongs to its session; the later word stands. */
  | { readonly kind: 'apart'; readonly file: FileId; readonly is: ApartSaid }
  | { readonly kind: 'keep'; readonly file: FileId; readonly point?: BikePoint }
  | { readonly kind: 'leave-out'; readonly file: FileId; readonly point?: BikePoint }
  /** All quotas of keepers, in place of those before; what is not said is the program's own. */
  | {
      readonly kind: 'choose-rules';
      readonly mostPerRider?: number;
      readonly mostPerSpot?: number;
      readonly mostInAll?: number;
      readonly leastPerRider?: number;
    }
  /**
   * The keepers of the rider whose bike this is were gone through, and these files stood in the set then, and
   * stand on. `unseen`: nobody looked, and they stand as long as they are what is proposed.
   */
  | {
      readonly kind: 'gone-through';
      readonly of: BikePoint;
      readonly files: readonly FileId[];
      readonly unseen?: true;
    }
  /** A picture of the frame that was finished in another program; its bytes lie in the meeting's `finished/`. */
  | {
      readonly kind: 'finished-elsewhere';
      readonly file: FileId;
      readonly picture: FileId;
      readonly extension: string;
    }
  /** How these frames are finished, in place of what was said before. */
  | { readonly kind: 'finish'; readonly of: FinishedAlike; readonly finish: Finish }
  /** One frame by itself. */
  | { readonly kind: 'finish-of'; readonly file: FileId; readonly finish: Finish }
  /**
   * One frame's crop of this shape, `[left, top, width, height]` in 0–1 of the picture as it stood turned then, in place of
   * the rule's; null is the rule's again.
   */
  | {
      readonly kind: 'crop-of';
      readonly file: FileId;
      readonly ratio: Ratio;
      readonly box: readonly [number, number, number, number] | null;
      /** By how much the picture stood turned; absent: as it stands now. */
      readonly turnDeg?: number | undefined;
    }
  | { readonly kind: 'settled'; readonly rider: RiderId; readonly files: readonly FileId[] }
  /** Of a person: whatever bike is said to be theirs, now or later. */
  | { readonly kind: 'take-down'; readonly file?: FileId; readonly rider?: RiderId; readonly person?: PersonId }
  /** Not shown, after a fall for instance, until a person releases it. */
  | { readonly kind: 'held'; readonly file: FileId }
  | { readonly kind: 'released'; readonly file: FileId }
  /** Not of age: without a parent's consent nothing of them is shown, and with it no name; the later word stands. */
  | { readonly kind: 'minor'; readonly rider?: RiderId; readonly person?: PersonId; readonly is: MinorSaid }
  /** The rider's private link holds by this salt, in place of the one before; null: no link any more. */
  | { readonly kind: 'own-link'; readonly rider: RiderId; readonly salt: string | null }
  | {
      readonly kind: 'published';
      readonly edition: string;
      readonly riders: Readonly<Record<string, readonly FileId[]>>;
    }
  | { readonly kind: 'calibration'; readonly calibration: Readonly<Record<string, number>> }
  | { readonly kind: 'seen'; readonly writers: Readonly<Record<string, number>> }
  /** Takes back a whole gesture. A withdraw can itself be withdrawn (redo). */
  | { readonly kind: 'withdraw'; readonly gesture: GestureId };

export type DecisionKind = Decision['kind'];

/** A line of a kind this version does not know: kept, carried along, without effect. */
export interface UnknownDecision {
  readonly kind: string;
  readonly [field: string]: unknown;
}

/** One line of `log/<writer>.jsonl`, checksum already verified. */
export interface LogLine {
  readonly writer: WriterId;
  /** From 1, without gaps, per writer. */
  readonly seq: number;
  /** Version of the line format. */
  readonly v: number;
  /** Lamport time: later than everything this writer had seen. */
  readonly lamport: number;
  readonly gesture: GestureId;
  /** The writer's own clock, for people to read; never used for order. */
  readonly at: EpochMs;
  /** Which line of its gesture this is, from 1, and of how many; absent where the gesture is one line. */
  readonly part?: readonly [index: number, count: number];
  readonly decision: Decision | UnknownDecision;
}

/** What a fold of the log yields: the decisions in force, in order (Lamport, then writer, then seq). */
export interface FoldedLog {
  readonly lines: readonly LogLine[];
  /** Gestures in force, newest last: what undo would take back. */
  readonly gestures: readonly GestureId[];
  /** Known decisions in force with the line that says so. */
  readonly inForce: readonly { readonly line: LogLine; readonly decision: Decision }[];
  /** The next Lamport time to use. */
  readonly nextLamport: number;
}

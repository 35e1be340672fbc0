/** The arrangement: sessions, passes and riders, from measurements, timetable, decisions and calibration. Pure; never stored as truth. */

import type { BodyKey, FileId, FillId, FrameId, RiderId, RiderKey, SpotId } from '../ids.js';
import type { ApartKind } from '../log/apartSaid.js';
import type { FoldedLog } from '../log/types.js';
import type { Absent, Box, ColourName, ColourShare, FileMetadata, FrameMeasurement } from '../measure/types.js';
import type { Timetable } from '../plan/types.js';
import type { EpochMs, Milliseconds, WallMs } from '../units.js';

/** Where a file lies, beside its metadata. */
export interface KnownFile {
  readonly fileId: FileId;
  readonly fill: FillId;
  /** Inside the fill. */
  readonly path: string;
  readonly metadata: FileMetadata;
}

export interface ArrangeInput {
  readonly files: readonly KnownFile[];
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
  /** IANA zone of the meeting. */
  readonly zone: string;
  /** From the log's last `timetable`, or none. */
  readonly timetable: Timetable | null;
  /** Numbers on the entry list; absent where there is none. */
  readonly entryNumbers?: readonly string[];
  /** The last one logged; empty: to be learnt from the day as it stands. */
  readonly calibration: Readonly<Record<string, number>>;
}

/** A guess says how sure it is and why; a person's word says who; a measurement says neither. */
export type Source<Reason = string> =
  | { readonly kind: 'measured' }
  | { readonly kind: 'guessed'; readonly confidence: number; readonly reasons: readonly Reason[] }
  | { readonly kind: 'said' };

export interface BodyClock {
  readonly body: BodyKey;
  /** What is added to recorded times now. */
  readonly offsetMs: Milliseconds;
  readonly source: Source;
  /** Found from the evidence and not yet confirmed; offered as a question. */
  readonly proposedOffsetMs?: Milliseconds;
  /** The frames the proposal is about, in the order they were taken, both ends in; absent: all. */
  readonly proposedFor?: { readonly fromFrame?: FrameId; readonly toFrame?: FrameId; readonly frames: number };
}

/** Of the paddock, a portrait, the podium or the briefing: in no session and no pass by itself. */
export interface Apart {
  readonly is: ApartKind;
  readonly source: Source;
}

/** One exposure: its JPEG, RAW, both slots, side files. */
export interface Exposure {
  /** Of the main image. */
  readonly frameId: FrameId;
  readonly mainFile: FileId;
  readonly files: readonly FileId[];
  readonly body: BodyKey;
  readonly fill: FillId;
  readonly path: string;
  /** DCF file number, where the name has one. */
  readonly fileNumber: number | null;
  readonly recorded: WallMs | Absent;
  /** Corrected wall time in the meeting's zone; for frames without a time, absent. */
  readonly wall: WallMs | null;
  readonly instant: EpochMs | null;
  readonly role: 'bike' | 'divider' | 'scenery' | 'unmeasured' | 'unmeasurable';
  readonly session: number | null;
  readonly burst: number | null;
  readonly spot: SpotId | null;
  /** Absent: it belongs to the track. */
  readonly apart?: Apart;
  /** It may be apart, which is for a person to say, and nobody has. */
  readonly perhapsApart?: Apart;
}

export interface Session {
  /** Index in `Arrangement.sessions`. */
  readonly index: number;
  /** `N3` where the timetable says so, else `1`, `2`, … */
  readonly name: string;
  readonly group: string | null;
  readonly slot: string | null;
  readonly start: WallMs;
  readonly end: WallMs;
  readonly startSource: Source;
  readonly groupSource: Source;
  readonly frames: readonly FrameId[];
}

/** A bike in a frame. */
export interface BikeRef {
  readonly frameId: FrameId;
  /** Index into the frame's subjects; −1 where only a person saw it. */
  readonly subject: number;
}

/** One bike going by once. */
export interface Pass {
  readonly index: number;
  /** Index into `Arrangement.sessions`; −1 outside every session. */
  readonly session: number;
  readonly spot: SpotId | null;
  readonly body: BodyKey;
  readonly start: WallMs;
  readonly end: WallMs;
  readonly bikes: readonly BikeRef[];
  readonly rider: RiderKey;
  /** Chance that this pass is its rider's, 0–1; 1 where a person said so. */
  readonly confidence?: number;
  /** Why it is this rider's, in one sentence. */
  readonly why?: string;
  /** The likeliest other rider, where one comes near. */
  readonly rival?: RiderKey;
}

/** What a rider looks like, by parts; what no picture tells is absent. */
export interface Livery {
  /** Two at most, the larger first; none where no colours are known. */
  readonly bike: readonly ColourName[];
  readonly isMulticoloured: boolean;
  readonly leathers: ColourName | null;
  readonly helmet: ColourName | null;
}

export interface Rider {
  readonly key: RiderKey;
  /** Minted id, when somebody named, published, sold or watched this rider. */
  readonly id: RiderId | null;
  readonly aliases: readonly RiderId[];
  /** Small-letter code for screens, `N-k`. */
  readonly code: string;
  readonly number: string | null;
  readonly numberSource: Source | null;
  /** The one group with most passes. */
  readonly group: string | null;
  readonly groups: readonly string[];
  readonly passes: readonly number[];
  readonly bikeColours: readonly ColourShare[];
  readonly riderColours: readonly ColourShare[];
  /** Absent where no picture tells it from the leathers. */
  readonly helmetColours?: readonly ColourShare[];
  /** "black / orange, white leathers, red helmet". */
  readonly livery: string;
  readonly mainColours: readonly ColourName[];
  /** How sure the cluster is one rider, 0–1, with reasons. */
  readonly source: Source;
  /** Best single bike to show for this rider. */
  readonly face: BikeRef;
  /** Rides with every group: shown, and left out of counts. */
  readonly isInstructor?: boolean;
  /** Riders on bikes that look the same, a hire fleet's or twins: told apart by little. */
  readonly alike?: readonly RiderKey[];
}

export type Question =
  | {
      readonly kind: 'body-clock';
      readonly id: string;
      readonly body: BodyKey;
      /** First and last frame it is about, in the order they were taken; a missing end means all the way. */
      readonly fromFrame?: FrameId;
      readonly toFrame?: FrameId;
      /** How many it is about; absent: all of the body. */
      readonly frames?: number;
      readonly offsetMs: Milliseconds;
      readonly reasons: readonly string[];
      readonly worth: number;
    }
  | {
      readonly kind: 'same-rider';
      readonly id: string;
      readonly a: RiderKey;
      readonly b: RiderKey;
      readonly faces: readonly [BikeRef, BikeRef];
      readonly confidence: number;
      readonly reasons: readonly string[];
      readonly worth: number;
    }
  | {
      readonly kind: 'boundary';
      readonly id: string;
      readonly at: WallMs;
      readonly reasons: readonly string[];
      readonly worth: number;
    }
  | {
      readonly kind: 'contradiction';
      readonly id: string;
      readonly sentence: string;
      readonly worth: number;
      /** Where it is about two riders: one rider, or two? Whoever answers says it of every pair. */
      readonly between?: {
        readonly pairs: readonly (readonly [BikeRef, BikeRef])[];
        /** Two bikes of one picture cannot. */
        readonly canBeOne: boolean;
        /** The first of each pair is held by this settled rider though it fits another better: settled once more it stays, unasked. */
        readonly heldBy?: { readonly rider: RiderId; readonly files: readonly FileId[] };
      };
    };

export interface Arrangement {
  readonly clocks: readonly BodyClock[];
  /** In order: corrected time, body, file number. */
  readonly exposures: readonly Exposure[];
  readonly sessions: readonly Session[];
  readonly passes: readonly Pass[];
  readonly riders: readonly Rider[];
  /** Most valuable first. */
  readonly questions: readonly Question[];
  /** Boxes of subjects that only a person saw. */
  readonly saidBikes: readonly { readonly frameId: FrameId; readonly box: Box; readonly rider: RiderKey }[];
  /** What was learnt of the day and used, or what was logged: to be logged when a fill is complete. */
  readonly calibration?: Readonly<Record<string, number>>;
  /** Indices into `passes` below the confidence line: in nobody's set until a question is answered. */
  readonly unsure?: readonly number[];
}

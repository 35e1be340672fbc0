/** The meeting folder as host opens it: the truth on disk, and an index outside it that can always be rebuilt. */
import type { Fill } from '../../core/bringin/types.js';
import type { KeepDays } from '../../core/handover/law/types.js';
import type { LicenceKind } from '../../core/handover/orders/types.js';
import type { OrganiserAgreed } from '../../core/handover/organiser/types.js';
import type { FileId, FrameId, GestureId, MeetingId, WriterId } from '../../core/ids.js';
import type { BikeJudgement, JudgedLine } from '../../core/judge/types.js';
import type { Decision, FoldedLog, LogLine } from '../../core/log/types.js';
import type { FileMetadata, FrameMeasurement, MeasuredLine } from '../../core/measure/types.js';
import type { People } from './people.js';

/** `meeting.json`. No absolute path, no names of riders. */
export interface MeetingAbout {
  readonly id: MeetingId;
  /** Version of the folder's format; a newer one is refused kindly. */
  readonly format: number;
  readonly name: string;
  /** `YYYY-MM-DD`, first and last day. */
  readonly firstDay: string;
  readonly lastDay: string;
  /** IANA zone. */
  readonly zone: string;
  readonly circuit?: string;
  readonly spots: readonly { readonly id: string; readonly number: number; readonly name: string }[];
  readonly creator?: string;
  readonly credit?: string;
  readonly copyright?: string;
  /** Where riders may write: an e-mail or a web address. */
  readonly contact?: string;
  readonly usageTerms?: string;
  /** Of finals, where they differ from those of proofs. */
  readonly finalUsageTerms?: string;
  /** The photographer's own licence texts, with `{meeting}`, `{day}`, `{credit}` and `{contact}`. */
  readonly licences?: Readonly<Partial<Record<LicenceKind, string>>>;
  /** Days kinds of data are kept, where they are not the usual ones. */
  readonly keepDays?: Partial<KeepDays>;
  /** Words of the watermark; else "proof" and the credit. */
  readonly markText?: string;
  /** Hash of the photographer's own mark, `mark.png` in the folder, which stands in place of the words; `words`: none. */
  readonly markPicture?: string;
  /** Where the gallery is to be found, once it is put up. */
  readonly galleryAddress?: string;
  /** Where the order service answers riders. */
  readonly ordersAddress?: string;
  /** Language of the gallery's first pages. */
  readonly galleryLanguage?: string;
  /** The organiser allows that riders of age are looked for by name. */
  readonly mayBeNamed?: boolean;
  /** Long edge of proofs, 1,000–1,600. */
  readonly proofLongEdgePx?: number;
  /** What was agreed with the organiser. */
  readonly organiser?: OrganiserAgreed;
}

/** Append-only decisions. An answer is given only after the line is flushed to the disk. */
export interface Logbook {
  readonly writer: WriterId;
  append(gesture: GestureId, decisions: readonly Decision[]): Promise<readonly LogLine[]>;
  /** Every line of every writer, merged. */
  folded(): FoldedLog;
  /** Sentences about what had to be dropped (a torn last line) or carried along unknown. */
  readonly notices: readonly string[];
}

/** A line of `measured/<writer>.jsonl`. */
export type StoredLine = MeasuredLine | JudgedLine;

/** Append-only measurements, `measured/<writer>.jsonl`. Later lines with the same key and version change nothing. */
export interface MeasuredStore {
  metadata(file: FileId): FileMetadata | undefined;
  pixels(frame: FrameId): FrameMeasurement | undefined;
  allMetadata(): ReadonlyMap<FileId, FileMetadata>;
  allPixels(): ReadonlyMap<FrameId, FrameMeasurement>;
  /** The best judgement of each bike of a frame. */
  allJudged(): ReadonlyMap<FrameId, readonly BikeJudgement[]>;
  append(lines: readonly StoredLine[]): Promise<void>;
}

export interface Meeting {
  readonly folder: string;
  readonly about: MeetingAbout;
  readonly log: Logbook;
  readonly measured: MeasuredStore;
  /** Names, contacts and bookings; absent where nobody needs them. */
  readonly people?: Pick<People, 'get'>;
  /** Outside the folder, under the meeting's id: index and pictures that can be made again. */
  readonly stateFolder: string;
  /** Reads the manifests again; cheap when nothing changed. */
  fills(): Promise<readonly Fill[]>;
  /** Absolute path of a fill's file on this machine. */
  pathOf(fill: Fill, path: string): string;
  /** Opened for looking only: nothing is written to the folder. */
  readonly isForLooking?: boolean;
  /** Sentences about what opening found: torn or damaged lines, lines that are missing, a folder that is read-only. */
  readonly notices?: readonly string[];
  /** Tells other processes of this machine where the desk listens; they name it when they find the meeting taken. */
  announce?(address: string | null): Promise<void>;
  close(): Promise<void>;
}

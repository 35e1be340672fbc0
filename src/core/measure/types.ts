/**
 * Measurements: immutable, made from a file once, keyed by file id (metadata) or frame id (pixels) and the
 * measurer's version. All boxes and points are in upright 0–1 coordinates, x to the right, y down.
 */
import type { FileId, FrameId } from '../ids.js';
import type { EpochMs } from '../units.js';
import type { SeenCard } from './cards/types.js';

/** Absent is absent: the reason, never a zero. */
export interface Absent<Reason extends string = string> {
  readonly kind: 'absent';
  readonly reason: Reason;
}

/** What the camera wrote, as text. */
export interface RecordedTime {
  readonly kind: 'recorded';
  /** `YYYY:MM:DD HH:MM:SS` as in the file. */
  readonly text: string;
  /** Decimal fraction as written: "45" is 0.45 s, "045" is 0.045 s. */
  readonly subSec?: string;
  /** `+02:00` as written. */
  readonly offset?: string;
}

export type MediaKind = 'jpeg' | 'raw' | 'clip' | 'side-file' | 'other';

/** Metadata of one file. Version: `METADATA_VERSION`. */
export interface FileMetadata {
  readonly v: number;
  readonly fileId: FileId;
  readonly frameId: FrameId;
  readonly media: MediaKind;
  readonly bytes: number;
  readonly captured: RecordedTime | Absent<'no-capture-time' | 'impossible-date' | 'unreadable' | 'not-a-picture'>;
  readonly body: { readonly make?: string; readonly model?: string; readonly serial?: string };
  readonly lens: { readonly model?: string; readonly focalLengthMm?: number; readonly focalLength35Mm?: number };
  readonly exposure: {
    readonly shutterS?: number;
    readonly fNumber?: number;
    readonly iso?: number;
    readonly biasEv?: number;
    /** Absent: it did not, or nobody looked when the file was read. */
    readonly flash?: 'fired';
  };
  /** Exif orientation 1–8 as recorded; absent when not. */
  readonly orientation?: 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;
  /** Upright size of the main image. */
  readonly widthPx?: number;
  readonly heightPx?: number;
  readonly position?: { readonly latDeg: number; readonly lonDeg: number; readonly altM?: number };
  /** Largest preview inside the file beside the main image, upright size. */
  readonly preview?: {
    readonly widthPx: number;
    readonly heightPx: number;
    readonly offset: number;
    readonly bytes: number;
  };
  /** Sentences about what was wrong with the file, in the words shown on screen. */
  readonly notes: readonly string[];
}

/** `[left, top, width, height]`, 0–1. */
export type Box = readonly [number, number, number, number];

/** The colour names of the program: Berlin & Kay's eleven and what riders say besides. */
export type ColourName = PlainColour | `fluorescent ${FluorescentHue}`;

export type PlainColour =
  | 'black'
  | 'white'
  | 'grey'
  | 'silver'
  | 'red'
  | 'orange'
  | 'yellow'
  | 'lime'
  | 'green'
  | 'teal'
  | 'blue'
  | 'navy'
  | 'purple'
  | 'pink'
  | 'brown';

/** Hues of which fluorescent paint is told from ordinary. */
export type FluorescentHue = 'yellow' | 'orange' | 'red';
export type SubjectPart = 'bike' | 'rider' | 'helmet';

/** A paint where it meets something white on the same part. */
export interface BesideWhite {
  readonly on: SubjectPart;
  readonly hue: FluorescentHue;
  /** Places where the two meet. */
  readonly pairs: number;
  /** Of the paint's light to the white's in the band of its hue, before the camera bent it: middle of all places. */
  readonly ratio: number;
  /** Linear light of the white there, 0–1: tells white from silver beside the session's other whites. */
  readonly white: number;
}

export interface ColourShare {
  readonly name: ColourName;
  /** Share of the subject's paint or clothes (tyres and engine count little), 0–1, largest first; the kept ones sum to 1. */
  readonly share: number;
  /** Mean CIE Lab D65 of those pixels. */
  readonly lab: readonly [number, number, number];
}

/** Sharpness of a subject, split by direction so that a pan is told from missed focus. */
export interface Sharpness {
  /** Contrast-normalised gradient energy across x (edges standing upright), at `scalePx`. */
  readonly alongX: number;
  readonly alongY: number;
  /** Down to the right, and up to the right. */
  readonly alongDown?: number;
  readonly alongUp?: number;
  /** One number for ranking within a burst: higher is sharper. */
  readonly overall: number;
  /** Long edge of the image it was measured on. */
  readonly scalePx: number;
}

/** Sharpness of the ground down the picture, for telling where a missed focus fell; a share of the coarser structure's energy. */
export interface GroundSharpness {
  /** Nearer to the camera than the wheels. */
  readonly before: number;
  readonly behind: number;
}

/** Light in stops on the sensor, up to a constant (`numeric/cameraCurve`). */
export interface LightStops {
  readonly stops: number;
  /** Of red, and of blue, over green. */
  readonly red: number;
  readonly blue: number;
}

/** The light a picture was taken in, as one subject of it shows it. */
export interface LightSeen {
  /** Of the tarmac about it; absent where too little ground shows, or hardly any is grey. */
  readonly ground?: LightStops;
  /** What bike and rider throw back of it. */
  readonly subject: LightStops;
}

/** A race number read on a bike or its rider. */
export interface NumberReading {
  /** Digits as read, `?` for one that is half hidden. */
  readonly text: string;
  /** Chance that the whole number is right, 0–1. */
  readonly confidence: number;
  /** False where a digit at either end may be hidden: "incomplete" is an answer. */
  readonly isWhole: boolean;
  readonly box: Box;
  /** How far the line of digits is turned from level, clockwise. */
  readonly turnedDeg: number;
}

export interface Subject {
  readonly what: 'motorcycle' | 'car' | 'bicycle' | 'person';
  /** Bike and rider together. */
  readonly box: Box;
  readonly bikeBox: Box;
  readonly riderBox?: Box;
  /** Detector's confidence 0–1. */
  readonly score: number;
  readonly isMain: boolean;
  /** Touches the picture's edge: the bike may be cut. */
  readonly isCut: boolean;
  readonly bikeColours: readonly ColourShare[];
  /** Of the leathers; with the helmet where that is not told apart. */
  readonly riderColours: readonly ColourShare[];
  /** Without its visor. Absent where it is not told apart or not seen. */
  readonly helmetColours?: readonly ColourShare[];
  /** Linear light that its brighter neutral parts reach; absent where there are hardly any. */
  readonly whiteLevel?: number;
  /** Absent where no paint of those hues meets white. */
  readonly besideWhite?: readonly BesideWhite[];
  readonly sharpness: Sharpness | Absent;
  /** Absent where too little ground shows, or none with structure, and of people on foot. */
  readonly ground?: GroundSharpness;
  /** Measured since version 7. */
  readonly light?: LightSeen;
  /** Same-bike descriptor: int8, base64; its parts come out with `descriptorParts`. Empty where there is none. */
  readonly descriptor: string;
  /** Surest first; empty where none was read, absent where none was looked for. */
  readonly numbers?: readonly NumberReading[];
}

/** Pixels of one frame, measured. Version: `PIXELS_VERSION`. */
export interface FrameMeasured {
  readonly kind: 'measured';
  readonly v: number;
  readonly frameId: FrameId;
  /** `preview`: from the embedded preview or shrunk; `full`: sharpness from full resolution. */
  readonly tier: 'preview' | 'full';
  readonly source: 'mpf-preview' | 'exif-thumbnail' | 'shrink-on-load' | 'full';
  readonly subjects: readonly Subject[];
  /** 0–1: how surely this is a divider (sky, ground, hand) and not a picture. */
  readonly dividerScore: number;
  /** Clockwise turn that sets it level, where what stands upright in it surely says so; how many uprights did. Measured since version 7. */
  readonly level?: { readonly turnDeg: number; readonly by: number };
  /** Clock and number cards of ours that were read in it; absent where there is none. */
  readonly cards?: readonly SeenCard[];
  /** A coarse signature of the scene around the subject, int8 base64: tells spots apart. */
  readonly sceneDescriptor: string;
  /** Mean relative luminance 0–1, for exposure trouble. */
  readonly meanLuminance: number;
  /** Share of the picture that is burnt to white. */
  readonly clippedShare: number;
  /** Share of the picture so dark that nothing can be lifted out of it. Measured since version 6. */
  readonly blockedShare?: number;
  /** Of tier `full`: why full resolution could not be read; every value is then the preview's. */
  readonly fullFailed?: string;
}

/** A frame that could not be measured: remembered, so that it is not tried for ever. */
export interface FrameUnmeasurable {
  readonly kind: 'unmeasurable';
  readonly v: number;
  readonly frameId: FrameId;
  readonly reason: string;
  /** What was asked for. Failing at `full` says nothing against the preview. Absent, the frame as such. */
  readonly tier?: FrameMeasured['tier'];
}

export type FrameMeasurement = FrameMeasured | FrameUnmeasurable;

/** One line of `measured/<writer>.jsonl`. */
export type MeasuredLine =
  | { readonly kind: 'metadata'; readonly at: EpochMs; readonly metadata: FileMetadata }
  | { readonly kind: 'pixels'; readonly at: EpochMs; readonly pixels: FrameMeasurement };

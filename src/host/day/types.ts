/**
 * One meeting, open and alive: one process owns it. Cards come in, frames are measured, the arrangement follows.
 * The desk and the terminal both talk to this.
 */
import type { Arrangement, BikeRef } from '../../core/arrange/types.js';
import type { CardProgress, Fill } from '../../core/bringin/types.js';
import type { Keepers } from '../../core/choose/types.js';
import type { Coverage } from '../../core/cover/types.js';
import type { FillId, FrameId, GestureId } from '../../core/ids.js';
import type { BikeJudgement, Judged } from '../../core/judge/types.js';
import type { Decision, FoldedLog } from '../../core/log/types.js';
import type { PixelRect } from '../../core/measure/images.js';
import type { FileMetadata, FrameMeasurement } from '../../core/measure/types.js';
import type { Timetable } from '../../core/plan/types.js';
import type { MeetingAbout } from '../meeting/types.js';
import type { Judging } from './judgeRunner.js';
import type { RememberedCard } from './rememberedCards.js';

/** Everything that is known at one moment. A new object at each change; `asOf` rises. */
export interface DayState {
  readonly asOf: number;
  readonly about: MeetingAbout;
  readonly timetable: Timetable | null;
  readonly fills: readonly Fill[];
  readonly arrangement: Arrangement;
  readonly coverage: Coverage;
  readonly keepers: Keepers;
  readonly log: FoldedLog;
  readonly metadata: ReadonlyMap<string, FileMetadata>;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly judgements: ReadonlyMap<FrameId, readonly BikeJudgement[]>;
  /** The judged bikes of today's measurements, by `bikeKeyOf`. */
  readonly judged: ReadonlyMap<string, Judged>;
  readonly judging: Judging;
  readonly toMeasure: { readonly left: number; readonly secondsLeft: number | null };
  readonly arrangedInMs: number;
}

export type DayEvent =
  | { readonly kind: 'state'; readonly asOf: number }
  | { readonly kind: 'card'; readonly progress: CardProgress }
  /** A passing one is no longer among the notices once its card is done. */
  | { readonly kind: 'notice'; readonly sentence: string; readonly isPassing?: true };

export interface Day {
  state(): DayState;
  cards(): readonly CardProgress[];
  /** What was said of cards when they were done, now or before, by fill. */
  rememberedCards(): ReadonlyMap<FillId, RememberedCard>;
  notices(): readonly string[];
  /** Appended and flushed before it resolves; the arrangement follows and is announced by an event. */
  decide(gesture: GestureId, decisions: readonly Decision[]): Promise<void>;
  /** Takes a gesture back. Resolves with the gesture that says so: to withdraw that one is to say the first again. */
  withdraw(gesture: GestureId): Promise<GestureId>;
  bringIn(cards: readonly string[]): Promise<void>;
  /** Absolute path of a small upright picture of a frame, made if it is missing. */
  picture(frame: FrameId): Promise<string | null>;
  /** A part of a frame at full resolution, in pixels of its upright picture, from the cache or cut out for it. */
  crop(frame: FrameId, rect: PixelRect): Promise<CropAnswer>;
  /** Whether it is kept, or could be cut out. */
  hasCrop(frame: FrameId, rect: PixelRect): Promise<boolean>;
  /** These bikes are on a screen, or soon will be: what is not judged of them goes first, and their crops are made. */
  lookAt(bikes: readonly BikeRef[]): void;
  /** Absolute path of a frame's main image. */
  original(frame: FrameId): string | null;
  subscribe(listener: (event: DayEvent) => void): () => void;
  /** Everything brought in is measured, arranged and written: what a terminal waits for. */
  settled(): Promise<DayState>;
  /** All that is worth it is judged, as far as its originals are here. */
  allJudged(): Promise<DayState>;
  close(): Promise<void>;
}

export type CropAnswer =
  | { readonly kind: 'crop'; readonly path: string }
  | { readonly kind: 'no-crop'; readonly sentence: string };

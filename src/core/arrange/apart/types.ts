/** What tells frames of paddock, podium and briefing from those of the track. */
import type { FileMetadata, FrameMeasured } from '../../measure/types.js';
import type { Apart, Exposure } from '../types.js';

/** One frame, in the order of the day. */
export interface FrameThen {
  readonly wall: number | null;
  readonly body: string;
  readonly role: Exposure['role'];
  readonly measured: FrameMeasured | null;
  readonly metadata: Pick<FileMetadata, 'lens' | 'exposure'>;
}

/** One thing that speaks for a frame's being apart, or against it. */
export interface Clue {
  readonly nats: number;
  /** Of clues that speak for it. */
  readonly words?: string;
}

export type ApartOrNot = Apart | null;

export interface Seen {
  /** People on foot. */
  readonly people: number;
  /** One of them fills the height of the picture, or nearly. */
  readonly isNear: boolean;
  readonly bikes: number;
  /** Somebody sits on one. */
  readonly isRidden: boolean;
  /** Two and more of about one size, nobody on any. */
  readonly isRow: boolean;
  /** One that fills a good part of the picture's height, and nobody on it or by it. */
  readonly isLeft: boolean;
}

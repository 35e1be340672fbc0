/** What the desk tells of places galleries are put up to and of law, and whom it asks to do the work. */
import type { TakeDownProof } from '../../core/handover/law/index.js';
import type { FileId, FrameId, GestureId, RiderKey } from '../../core/ids.js';
import type { Action } from '../actions.js';
import type { PictureView, WorkView } from '../types.js';

/** A place and how this meeting stands there. */
export interface PlaceStanding {
  readonly name: string;
  /** In words: `the folder /media/stick`. */
  readonly said: string;
  /** Of the gallery that stands there whole, ISO 8601; null where none does. */
  readonly since: string | null;
  readonly files: number;
  /** Files taken down and still there. */
  readonly pending: number;
  /** How the last run ended, where it failed. */
  readonly failed: string | null;
}

/** What is done outside the day: at places, in folders, at the order service. Trouble is thrown as a sentence. */
export interface HandoverWork {
  places(): Promise<readonly PlaceStanding[]>;
  /** Nothing is changed, here or there. */
  dryRun(place: string): Promise<readonly string[]>;
  putUp(place: string): Action;
  /** Where a takedown goes through, in words. */
  reaches(): Promise<readonly string[]>;
  /** Of a takedown that was said. */
  carryOut(gesture: GestureId, asked: TakeDownProof['asked']): Promise<readonly string[]>;
  /** Places that still show what was taken down, each a sentence. */
  pending(): Promise<readonly string[]>;
  again(): Promise<readonly string[]>;
  giveOut(rider: RiderKey): Promise<readonly string[]>;
}

export interface PlaceView {
  readonly name: string;
  readonly said: string;
  readonly stands: string;
  /** What was taken down and is still there. */
  readonly pending: string | null;
  readonly trouble: string | null;
  readonly work: WorkView;
}

/** A frame that is held back, or perhaps should be. */
export interface HeldFrameView {
  readonly file: FileId;
  readonly frameId: FrameId;
  readonly name: string;
  readonly picture: PictureView;
  readonly isHeld: boolean;
  /** Why it is asked about; a guess. */
  readonly why: readonly string[];
}

export interface HandoverView {
  readonly asOf: number;
  /** Null: this desk was opened without any. */
  readonly places: readonly PlaceView[] | null;
  readonly pending: readonly string[];
  /** Held ones first. */
  readonly held: readonly HeldFrameView[];
  /** The newest takedown or giving out. */
  readonly law: WorkView;
}

/** What may be asked for a rider or picture, before anything is said. */
export interface AboutView {
  readonly frames: number;
  /** Of these, with another rider in them. */
  readonly shared: number;
  /** In words; empty where this desk can reach none. */
  readonly reaches: readonly string[];
  readonly minor: 'without-consent' | 'with-consent' | null;
}

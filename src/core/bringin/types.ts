/** Bringing in: what a card and a fill are, what is to be copied, and what may be said of it. Plans only; host copies. */
import type { FileId, FillId } from '../ids.js';
import type { EpochMs } from '../units.js';

/** One file on a card as listed. Paths are relative to the volume's root, `/` between parts. */
export interface CardFile {
  readonly path: string;
  readonly bytes: number;
  readonly modified: EpochMs;
}

export interface CardListing {
  readonly files: readonly CardFile[];
  /** Entries that were listed but not taken, each with a sentence why (symlinks, devices, unreadable folders). */
  readonly passedOver: readonly PassedOver[];
}

export interface PassedOver {
  readonly path: string;
  readonly why: string;
  /** Belongs to a computer's own housekeeping (an index, a bin), not to the card: does not speak against formatting. */
  readonly isHousekeeping?: boolean;
}

/** A file of a fill as its manifests vouch for it. */
export interface FillFile {
  readonly path: string;
  readonly bytes: number;
  readonly modified: EpochMs;
  readonly fileId: FileId;
  /** Why this copy has not been read back from the disk itself; absent where it has. */
  readonly notReadBack?: string;
}

/** A fill as found in `cards/<folder>/`. */
export interface Fill {
  readonly id: FillId;
  /** Folder under `cards/`, safe on any file system. */
  readonly folder: string;
  readonly firstBroughtIn: EpochMs;
  readonly files: readonly FillFile[];
  /** Paths of these at which no file stands any more; they tell which card it is, and are copied again. */
  readonly gone?: ReadonlySet<string>;
  /** Manifest generations so far. */
  readonly generations: number;
}

/** `onto` holds the indices of the destinations that lack the file; absent means all of them. */
export type CopyStep =
  | {
      readonly kind: 'copy';
      readonly file: CardFile;
      readonly to: string;
      readonly onto?: readonly number[];
      /** Hash by which another destination already vouches for this file. */
      readonly expected?: FileId;
    }
  /** Already there with this size and time; its hash stands in the manifest. */
  | { readonly kind: 'already-here'; readonly file: CardFile; readonly fileId: FileId; readonly to?: string }
  /** Same name, other size or time: both are kept, the new one under `to`. */
  | { readonly kind: 'keep-both'; readonly file: CardFile; readonly to: string; readonly onto?: readonly number[] };

export interface CopyPlan {
  readonly fill: FillId;
  readonly folder: string;
  readonly isNewFill: boolean;
  readonly steps: readonly CopyStep[];
  /** Bytes to be read from the card. */
  readonly bytesToCopy: number;
  /** Bytes each destination still has to take, in the order given. */
  readonly bytesOnto?: readonly number[];
}

export type FileOutcome =
  | {
      readonly kind: 'verified';
      readonly path: string;
      readonly fileId: FileId;
      readonly bytes: number;
      readonly copies: number;
    }
  | {
      readonly kind: 'written-not-read-back';
      readonly path: string;
      readonly fileId: FileId;
      readonly bytes: number;
      readonly why: string;
    }
  | {
      readonly kind: 'mismatch';
      readonly path: string;
      readonly expected: string;
      readonly received: string;
      readonly sentence: string;
    }
  | { readonly kind: 'unreadable'; readonly path: string; readonly sentence: string };

/** Whether the card may be formatted, and if not, what is missing. */
export type FormatVerdict =
  | { readonly kind: 'may-be-formatted'; readonly sentence: string }
  | { readonly kind: 'keep'; readonly sentence: string; readonly missing: readonly string[] };

/** Progress of one card, for the terminal and the desk alike. */
export interface CardProgress {
  readonly card: string;
  readonly fill: FillId;
  readonly folder: string;
  readonly filesTotal: number;
  readonly bytesTotal: number;
  /** Files that stood on every destination before this run; they are not among `filesTotal`. */
  readonly alreadyHere?: number;
  readonly filesRead: number;
  readonly bytesRead: number;
  /** Per destination, in the order given. */
  readonly copies: readonly {
    readonly disk: string;
    readonly bytesWritten: number;
    readonly bytesReadBack: number;
  }[];
  readonly troubles: readonly string[];
  /** Worth saying, but nothing is wrong. */
  readonly notes?: readonly string[];
  readonly verdict: FormatVerdict | null;
  readonly secondsLeft: number | null;
  readonly state: 'listing' | 'copying' | 'finished' | 'stopped';
}

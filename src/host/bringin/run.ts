/** What all cards of one run share, and what is told of each file. */
import type { CardProgress } from '../../core/bringin/types.js';
import type { FileId, FillId } from '../../core/ids.js';
import type { Destination } from './destinations.js';
import type { Disk } from './disk.js';
import type { Limit } from './limit.js';

export interface FileCopied {
  readonly fill: FillId;
  readonly folder: string;
  readonly path: string;
  readonly absolutePath: string;
  readonly fileId: FileId;
  readonly bytes: number;
  readonly modified: number;
}

export interface Run {
  readonly destinations: readonly Destination[];
  readonly disk: Disk;
  readonly signal: AbortSignal | undefined;
  readonly onProgress: (progress: CardProgress) => void;
  readonly onFileCopied: (file: FileCopied) => void;
  readonly readLimitBytesPerSecond: number | undefined;
  readonly syncFolder: (folder: string) => Promise<void>;
  /** Reading back, one limit a destination, shared by the cards. */
  readonly readBackLimits: readonly Limit[];
  /** Bytes promised to cards that are being copied, per destination. */
  readonly promised: number[];
  readonly now: () => number;
  readonly newId: () => string;
}

/** Handing over: what a public gallery shows, and what its making adds to the log. */
import type { Livery, Source } from '../arrange/types.js';
import type { PixelSize } from '../finish/types.js';
import type { FrameId, RiderId, RiderKey } from '../ids.js';
import type { Decision } from '../log/types.js';
import type { Box, ColourName } from '../measure/types.js';
import type { WallMs } from '../units.js';

/** A name in public addresses: a keyed hash of at least 128 bits, of which nothing can be read back. */
export type PublicId = string;

/** What a public id stands for; the same frame has unrelated ids as picture and as face. */
export type PublicKind = 'frame' | 'face' | 'rider' | 'meeting' | 'set';

/** Keyed hash of the meeting's secret; the same secret gives the same id for ever. */
export type PublicIdOf = (kind: PublicKind, what: string) => PublicId;

export interface GalleryPicture {
  readonly id: PublicId;
  readonly frameId: FrameId;
  readonly size: PixelSize;
  readonly box: Box | null;
  /** Another bike was seen in it too, so the rider's own is marked. */
  readonly isShared: boolean;
  readonly session: number | null;
  readonly spot: string | null;
  readonly wall: WallMs | null;
}

export interface GalleryNumber {
  readonly text: string;
  readonly source: Source;
}

export interface GalleryRider {
  readonly key: RiderKey;
  readonly id: RiderId;
  readonly publicId: PublicId;
  readonly livery: string;
  /** The same by parts, for pages in other languages. */
  readonly look: Livery;
  readonly colours: readonly ColourName[];
  readonly number: GalleryNumber | null;
  /** In order of time. */
  readonly pictures: readonly GalleryPicture[];
  /** The picture to know the rider by, one of `pictures`, and the id of its crop. */
  readonly face: GalleryPicture;
  readonly faceId: PublicId;
  /** Public riders some of whose pictures once stood at this rider's address. */
  readonly separated: readonly PublicId[];
  /** Riders who may be this one too, the likeliest first. Nobody has said so: they are never put together here. */
  readonly perhaps: readonly PerhapsSame[];
}

export interface PerhapsSame {
  readonly publicId: PublicId;
  /** 0–1. */
  readonly confidence: number;
}

export interface GallerySession {
  readonly index: number;
  readonly name: string;
  readonly group: string | null;
  readonly start: WallMs;
  readonly riders: readonly PublicId[];
}

/** An old address: the rider goes by another now, was separated into several, or has no pictures here any more. */
export interface OldAddress {
  readonly publicId: PublicId;
  readonly kind: 'moved' | 'separated' | 'gone';
  readonly to: readonly PublicId[];
}

export interface Gallery {
  readonly edition: string;
  readonly title: string;
  /** `YYYY-MM-DD`. */
  readonly firstDay: string;
  readonly lastDay: string;
  readonly circuit: string | null;
  readonly credit: string | null;
  readonly contact: string | null;
  /** Without a name where the timetable has none. */
  readonly groups: readonly { readonly key: string; readonly name: string | null }[];
  readonly sessions: readonly GallerySession[];
  readonly spots: readonly { readonly name: string; readonly number: number }[];
  readonly riders: readonly GalleryRider[];
  readonly oldAddresses: readonly OldAddress[];
}

export interface GalleryPlan {
  readonly gallery: Gallery;
  /**
   * For the caller to append as one gesture once the gallery stands: riders minted by publishing and the snapshot
   * `published`. Empty when nothing has changed since the last time.
   */
  readonly decisions: readonly Decision[];
}

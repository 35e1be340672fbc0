/** Handing over: what of an order may be fetched, by which link, and where its finals come from. */
import type { LicenceKind, OrderId } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import type { EpochMs } from '../../core/units.js';

/** One file to be handed over. The same picture under another licence or in another size is another file. */
export interface FinalWish {
  readonly picture: PublicId;
  readonly licence: LicenceKind;
  /** Null: as large as the original. */
  readonly longEdgePx: number | null;
}

/** A final that lies in the service's data folder, whole. */
export interface ReadyFinal {
  readonly path: string;
  readonly bytes: number;
  readonly crc32: number;
  /** 64 hex digits. */
  readonly sha256: string;
}

export type FinalAnswer =
  | ({ readonly kind: 'ready' } & ReadyFinal)
  | { readonly kind: 'being-made' }
  /** The originals are elsewhere; somebody has to bring it. */
  | { readonly kind: 'waits-for-laptop' }
  /** There will be none: said with why. */
  | { readonly kind: 'cannot'; readonly sentence: string };

export interface FinalsOf {
  /** Says where it stands, and asks for it to be made where it does not. Asking twice makes it once. */
  want(wish: FinalWish): Promise<FinalAnswer>;
  /** Called whenever one came to stand, or came to nothing. */
  onSettled(listener: () => void): void;
}

/** Makes finals where the originals are. One call at a time. */
export interface FinalMaker {
  /**
   * Of one licence and size. Each picture comes to a file below `folder`, which is empty, or to a sentence; what is of another meeting to
   * nothing.
   */
  make(
    pictures: readonly PublicId[],
    how: Pick<FinalWish, 'licence' | 'longEdgePx'>,
    folder: string,
    onProgress: (done: number) => void,
  ): Promise<ReadonlyMap<PublicId, { readonly path: string } | { readonly sentence: string }>>;
}

export interface Link {
  readonly order: OrderId;
  /** One picture of the order; null for its whole set. */
  readonly scope: PublicId | null;
  readonly generation: number;
  /** Whole seconds. */
  readonly expiresAt: EpochMs;
}

/** Where letters are given up to be carried. */
export interface MailSettings {
  readonly host: string;
  readonly port: number;
  /** From the first byte (port 465), or asked for and required; none only with a server on this very machine. */
  readonly tls: 'from-start' | 'starttls' | 'none';
  readonly user: string | null;
  readonly password: string | null;
  /** Whose letters they are. */
  readonly from: { readonly name: string; readonly address: string };
  /** PEM of an authority to trust beside the usual ones. */
  readonly authority?: string;
}

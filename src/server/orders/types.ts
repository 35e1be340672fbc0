/** What the desk tells of orders. Types only, as in `../types.ts`. */
import type { HandWay, MessageKind, OrderState } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import type { WallMs } from '../../core/units.js';
import type { PictureView, RiderLineView, Spoken } from '../types.js';

export interface OrderPictureView {
  readonly id: PublicId;
  /** Null where no frame here has that id. */
  readonly picture: PictureView | null;
  /** Out of the order by a fact. */
  readonly isOut: boolean;
}

export interface OrderView {
  readonly reference: string;
  readonly state: OrderState;
  readonly placedAt: WallMs;
  readonly name: string;
  readonly pictures: readonly OrderPictureView[];
  readonly riders: readonly RiderLineView[];
  /** Money that came and went, oldest first. */
  readonly money: readonly { readonly at: WallMs; readonly said: Spoken }[];
}

export interface MessageView {
  readonly id: string;
  readonly kind: MessageKind;
  readonly at: WallMs;
  /** What is asked, as a sentence. */
  readonly sentence: string;
  /** As typed. */
  readonly words: string | null;
  readonly contact: string | null;
  readonly picture: PictureView | null;
  readonly rider: RiderLineView | null;
  /** References of orders that have the picture. */
  readonly orders: readonly string[];
}

export interface OrdersView {
  readonly asOf: number;
  readonly headline: string;
  /** Said under it; null where there is nothing to add. */
  readonly lead: string | null;
  /** Those that wait for money first, newest first. */
  readonly orders: readonly OrderView[];
  /** Null before they were fetched: they are kept at the service alone. */
  readonly messages: readonly MessageView[] | null;
  /** False where this desk was opened without a service. */
  readonly canFetch: boolean;
  /** How many facts came so far; null while nothing is fetched. */
  readonly fetching: { readonly come: number } | null;
  /** Of this start of the desk. */
  readonly lastFetched: WallMs | null;
  /** Why the last fetching came to nothing. */
  readonly trouble: string | null;
  /** The van's page at the service, or why there is none. */
  readonly van: { readonly address: string } | { readonly why: string };
}

/** What is said of one order, with the money as the screen showed it: where it is another by now, nothing is told. */
export type OrderSaid = { readonly seen: { readonly paid: number; readonly refunded: number } } & (
  | { readonly say: 'money'; readonly way: HandWay; readonly reference: string }
  | { readonly say: 'back' }
  | { readonly say: 'wrong-rider'; readonly pictures: readonly PublicId[] }
  | { readonly say: 'cancel' }
);

/** What the desk asks of the service that holds the orders. */
import type { FactToTell } from '../../core/handover/law/index.js';
import type { MessageField, MessageKind, OrderId } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import type { FetchedOrders } from '../../host/orders/fetchedOrders.js';

/** The order service, as the photographer's machine reaches it. */
export interface OrderService {
  factsSince(
    since: number,
    meeting: PublicId,
  ): AsyncIterable<Omit<FetchedOrders, 'cursor'> & { readonly next: number }>;
  messagesSince(since: number): Promise<readonly RiderMessage[]>;
  forgetMessage(id: string): Promise<void>;
  tell(order: OrderId, told: FactToTell): Promise<unknown>;
  /** Where riders reach it, and which meetings it offers. */
  where(): Promise<{ readonly site: string; readonly meetings: readonly PublicId[] }>;
}

export interface RiderMessage {
  readonly seq: number;
  readonly id: string;
  readonly meeting: PublicId;
  readonly kind: MessageKind;
  readonly at: number;
  readonly words: Readonly<Partial<Record<MessageField, string>>>;
}

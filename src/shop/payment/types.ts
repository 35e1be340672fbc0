/** Who takes the buyer's card, so that we never see it: we send the buyer there, and are told by a signed webhook. */
import type { CurrencyCode, Minor, OrderId } from '../../core/handover/orders/index.js';

export interface PaymentAsked {
  readonly order: OrderId;
  readonly amount: Minor;
  readonly currency: CurrencyCode;
  /** As the buyer reads it there. */
  readonly about: string;
  /** The order's page, where the buyer comes back to. */
  readonly back: string;
  /** The same payment asked for twice is one. */
  readonly key: string;
}

export type ProviderEvent =
  | {
      readonly kind: 'paid' | 'refunded';
      readonly order: OrderId;
      readonly amount: Minor;
      readonly currency: CurrencyCode;
      /** The provider's own, of this payment or refund: told under two webhooks it is still one. */
      readonly reference: string;
    }
  /** Signed, but nothing that changes an order. */
  | { readonly kind: 'nothing' };

export interface PaymentProvider {
  /** Part of the webhook's address and of the facts' keys. */
  readonly key: string;
  /** As it stands on the button. */
  readonly name: string;
  /** Where buyers are sent, for the page's policy. */
  readonly origin: string;
  readonly webhookKeys: readonly Buffer[];
  /** The address to send the buyer to. */
  start(asked: PaymentAsked): Promise<string>;
  /** What a webhook says whose signature stood. Throws a sentence where it is not what was agreed. */
  read(body: unknown): ProviderEvent;
}

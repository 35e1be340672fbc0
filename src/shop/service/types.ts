/** What the service stands on: all of it is handed in, so that tests give their own clock, keys and database. */
import type { WayToPay } from '../../core/handover/orders/index.js';
import type { EpochMs } from '../../core/units.js';
import type { OrderStore } from '../db/index.js';
import type { PaymentProvider } from '../payment/types.js';

/** Ways that a person takes the money, beside the provider. */
export type HandWay = Extract<WayToPay, 'transfer' | 'cash' | 'terminal'>;

export interface ShopSettings {
  /** 256 bits as hex: signs forms and links. */
  readonly secret: string;
  /** Put before the year in numbers of invoices. */
  readonly series: string;
  readonly ways: readonly HandWay[];
  /** The account, as lines to be read. */
  readonly transferTo: readonly string[];
}

export interface ShopPorts {
  readonly store: OrderStore;
  readonly settings: ShopSettings;
  readonly provider: PaymentProvider | null;
  /** Where riders reach the service, without a slash at the end. */
  readonly site: string;
  readonly now: () => EpochMs;
}

/** What the service stands on: all of it is handed in, so that tests give their own clock, keys and database. */
import type { Hono } from 'hono';
import type { HandWay, OrderId, OrderState } from '../../core/handover/orders/index.js';
import type { EpochMs } from '../../core/units.js';
import type { OrderStore } from '../db/index.js';
import type { Html } from '../pages/frame.js';
import type { Language } from '../pages/words/index.js';
import type { PaymentProvider } from '../payment/types.js';

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
  readonly parts: readonly ShopPart[];
}

/** What stands beside orders in the same service and knows them only by their facts: handing over, the organiser's page. */
export interface ShopPart {
  /** Its own addresses, behind the same guards. */
  addTo(app: Hono): void;
  /** Those of the admin side, which lets in nobody without key or password. */
  addToAdmin(app: Hono): void;
  /** What it has to say on an order's page; null for nothing. */
  onOrderPage(state: OrderState, language: Language): Promise<Html | null>;
  /** Something was told of an order, after it stands in the database; of none: an offer is another now. */
  told(order: OrderId | null): void;
  /** Once the service listens. */
  start(): void;
  /** Before the database is closed. */
  close(): Promise<void>;
}

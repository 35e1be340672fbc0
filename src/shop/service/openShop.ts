/** The whole service from its data folder: database, provider, both listeners. */
import type { Offer } from '../../core/handover/orders/index.js';
import { epochMsOf } from '../../core/units.js';
import { type OrderStore, openLibsqlOrders, openPostgresOrders } from '../db/index.js';
import { jsonProvider } from '../payment/jsonProvider.js';
import { webhookKeyOf } from '../payment/standardWebhooks.js';
import type { PaymentProvider } from '../payment/types.js';
import { type KeptSettings, openDataFolder } from './dataFolder.js';
import { type Listening, type ListenWish, listenShop } from './listen.js';
import type { ShopPart, ShopPorts } from './types.js';

export interface ShopWish extends ListenWish {
  readonly data: string;
  /** Of PostgreSQL; null for the file in the data folder. */
  readonly database: string | null;
  readonly offers: readonly Offer[];
  /** Where riders reach it; null for this machine alone. */
  readonly site: string | null;
  readonly provider?: PaymentProvider;
  /** What else the service does, once its database is open. */
  readonly parts?: (ports: Omit<ShopPorts, 'site' | 'parts'>, data: string) => readonly ShopPart[];
}

export interface OpenShop extends Listening {
  readonly engine: OrderStore['engine'];
}

export async function openShop(wish: ShopWish): Promise<OpenShop> {
  const data = await openDataFolder(wish.data);
  const store = await (wish.database === null ? openLibsqlOrders(data.database) : openPostgresOrders(wish.database));
  try {
    const now = () => epochMsOf(Date.now());
    for (const offer of wish.offers) await store.write((writes) => writes.putOffer(offer, now()));
    const provider = wish.provider ?? providerOf(data.settings);
    const ports = { store, settings: data.settings, provider, now };
    const parts = wish.parts?.(ports, data.folder) ?? [];
    const listening = await listenShop({ ...ports, parts, site: wish.site }, data, wish);
    return {
      ...listening,
      engine: store.engine,
      close: async () => {
        await listening.close();
        await store.close();
      },
    };
  } catch (error) {
    await store.close();
    throw error;
  }
}

const providerOf = ({ provider }: KeptSettings): PaymentProvider | null =>
  provider === null
    ? null
    : jsonProvider(
        provider,
        provider.webhookKeys.map((text) => webhookKeyOf(text)!),
      );

/** The whole service from its data folder: database, provider, both listeners. */
import { offerWithout } from '../../core/handover/law/index.js';
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
  readonly provider?: PaymentProvider;
  /** What else the service does; given the data folder, too. */
  readonly parts?: (ports: Omit<ShopPorts, 'parts'>, data: string) => Promise<readonly ShopPart[]>;
}

export interface OpenShop extends Listening {
  readonly engine: OrderStore['engine'];
}

export async function openShop(wish: ShopWish): Promise<OpenShop> {
  const data = await openDataFolder(wish.data);
  const store = await (wish.database === null ? openLibsqlOrders(data.database) : openPostgresOrders(wish.database));
  try {
    const now = () => epochMsOf(Date.now());
    for (const offer of wish.offers)
      await store.write(async (writes) => {
        // A file of before a takedown brings nothing back; an offer that is put by the photographer's machine may.
        const before = await writes.offer(offer.meeting);
        await writes.putOffer(offerWithout(offer, before?.withdrawn ?? []), now());
      });
    const provider = wish.provider ?? providerOf(data.settings);
    const partsOf = async (ports: Omit<ShopPorts, 'parts'>) => (await wish.parts?.(ports, data.folder)) ?? [];
    const listening = await listenShop({ store, settings: data.settings, provider, now }, partsOf, data, wish);
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

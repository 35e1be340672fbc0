/** Handing over as it stands in a service: the finals in its data folder, letters by its `mail.json`. */
import type { ShopPorts } from '../service/types.js';
import { Bringing } from './finals/bringing.js';
import { FinalStore } from './finals/finalStore.js';
import { Finals } from './finals/finals.js';
import { Handing } from './handing.js';
import { readMailSettings } from './mail/mailSettings.js';
import type { FinalMaker } from './types.js';

export interface HandingWish {
  readonly dataFolder: string;
  /** Null on a server without originals: finals are brought by the laptop. */
  readonly maker: FinalMaker | null;
}

/** For `ShopPorts.parts`; call its `start()` once the service listens, and `close()` before the database is closed. */
export async function openHanding(
  shop: Omit<ShopPorts, 'parts'>,
  { dataFolder, maker }: HandingWish,
): Promise<Handing> {
  const mail = await readMailSettings(dataFolder);
  const store = new FinalStore(dataFolder);
  const finals = new Finals(store, dataFolder, maker);
  const bringing = new Bringing(dataFolder, finals);
  await store.removeLeftOver(shop.now());
  await bringing.removeLeftOver();
  return new Handing({ shop, store, finals, bringing, mail });
}

/** Places beyond this disk: where galleries were put up to, and the order service. */

import type { PublicId, PublicIdOf } from '../../core/handover/index.js';
import type { Offer, OrderId, OrderState } from '../../core/handover/orders/index.js';
import type { GestureId } from '../../core/ids.js';
import { knownPlaces, openPlace, placeIn, putUpStandings, withdrawFrom } from '../putUp/index.js';
import { readNotes } from '../putUp/notes.js';
import { notesOf } from '../putUp/standing.js';
import type { Down } from './down.js';
import type { Cleared, PlaceToClear } from './placesHere.js';

export interface PutUpWish {
  readonly meetingFolder: string;
  readonly stateRoot: string;
  readonly meeting: string;
  readonly idOf: PublicIdOf;
  readonly now: () => Date;
}

/** Every place this meeting was ever put up to. */
export async function placesPutUpTo(wish: PutUpWish): Promise<readonly PlaceToClear[]> {
  const standings = await putUpStandings(wish.meetingFolder, new Set(), wish.now());
  return standings.map(({ place }) => ({
    place: `put up to ${place}`,
    kind: 'put-up',
    clear: (down) => clearPutUp(place, down, wish),
  }));
}

async function clearPutUp(name: string, down: Down, wish: PutUpWish): Promise<Cleared> {
  const { meetingFolder, idOf, now } = wish;
  const notes = notesOf(meetingFolder, name);
  const before = await readNotes(notes);
  let trouble: string | null = null;
  try {
    const place = await openPlace(placeIn(await knownPlaces(wish.stateRoot), name));
    try {
      const mark = idOf('meeting', wish.meeting);
      await withdrawFrom({ place, name, meetingFolder, withdrawn: down.ids, mark, now });
    } finally {
      await place.close();
    }
  } catch (problem) {
    trouble = (problem as Error).message;
  }
  const after = await readNotes(notes);
  const removed = [...before.values()]
    .filter(({ path }) => !after.has(path))
    .map(({ path, tag, bytes }) => ({ what: path, sha256: tag, bytes }));
  return {
    removed,
    pending: trouble === null ? null : `${trouble} Say tyrewall take-down --again when it can be reached.`,
  };
}

/** As much of the order service's admin side as a takedown needs. */
export interface ShopToTell {
  offers(): Promise<readonly Offer[]>;
  putOffer(offer: Offer): Promise<void>;
  orders(): Promise<readonly { readonly state: OrderState }[]>;
  tell(
    order: OrderId,
    told: {
      readonly key: string;
      readonly fact: { readonly kind: 'withdrawn'; readonly pictures: string[]; readonly why: 'taken-down' };
    },
  ): Promise<unknown>;
}

/** Offers first, so that nobody orders in between. What is withdrawn from an order its links and zips give no longer. */
export const shopPlace = (shop: ShopToTell, meeting: PublicId, gesture: GestureId): PlaceToClear => ({
  place: 'order service',
  kind: 'orders',
  async clear({ pictures }) {
    const removed: Cleared['removed'][number][] = [];
    const add = (what: string) => removed.push({ what, sha256: null, bytes: null });
    for (const offer of (await shop.offers()).filter((one) => one.meeting === meeting)) {
      const known = new Set(offer.withdrawn);
      const fresh = [...pictures].filter((picture) => !known.has(picture));
      if (fresh.length === 0) continue;
      await shop.putOffer({ ...offer, withdrawn: [...offer.withdrawn, ...fresh] });
      for (const { id } of offer.pictures) if (fresh.includes(id)) add(`offer ${offer.edition}: ${id}`);
    }
    for (const { state } of await shop.orders()) {
      if (state.placed?.meeting !== meeting) continue;
      const own = state.pictures.filter((picture) => pictures.has(picture));
      if (own.length === 0) continue;
      const fact = { kind: 'withdrawn', pictures: own, why: 'taken-down' } as const;
      await shop.tell(state.id, { key: `down-${gesture}`, fact });
      for (const picture of own) add(`an order, its links and zip: ${picture}`);
    }
    return { removed, pending: null };
  },
});

/** Of a service nobody reached, so that it is not forgotten. */
export const unreachedShop = (sentence: string): PlaceToClear => ({
  place: 'order service',
  kind: 'orders',
  clear: async () => ({ removed: [], pending: sentence }),
});

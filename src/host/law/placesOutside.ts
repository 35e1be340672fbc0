/** Places beyond this disk: where galleries were put up to, and the order service. */

import type { PublicId, PublicIdOf } from '../../core/handover/index.js';
import { offerWithout, type RemovedThing } from '../../core/handover/law/index.js';
import type { Offer, OrderId, OrderState } from '../../core/handover/orders/index.js';
import type { FrameId, GestureId } from '../../core/ids.js';
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
  /** Of pictures, in every size and licence. */
  removeFinals(pictures: readonly PublicId[]): Promise<readonly RemovedThing[]>;
  /** From the organiser's pages, by their names as finals. */
  removeShared(names: readonly string[]): Promise<readonly RemovedThing[]>;
}

/**
 * Offers before orders, so that nobody orders in between; what is withdrawn from an order its links and zips give no longer. Finals go
 * before, while they can be told of, and again for one that was made meanwhile.
 */
export const shopPlace = (
  shop: ShopToTell,
  meeting: PublicId,
  gesture: GestureId,
  /** Without it no page of the organiser is looked through. */
  byName: ReadonlyMap<string, FrameId> = new Map(),
): PlaceToClear => ({
  place: 'order service',
  kind: 'orders',
  async clear(down) {
    const pictures = [...down.pictures];
    const finals = await shop.removeFinals(pictures);
    const withdrawn = [
      ...(await withdrawOffers(shop, meeting, down)),
      ...(await withdrawOrders(shop, meeting, gesture, down)),
    ];
    const meanwhile = await shop.removeFinals(pictures);
    const names = [...byName].flatMap(([name, frame]) =>
      down.frames.has(frame) ? [[name, down.frames.get(frame)!] as const] : [],
    );
    const shared = names.length === 0 ? [] : await shop.removeShared(names.map(([name]) => name));
    // No name of a file is in a proof.
    const called = (what: string): string => names.reduce((text, [name, id]) => text.replaceAll(name, id), what);
    const ofShares = shared.map((one) => ({ ...one, what: called(one.what) }));
    return { removed: [...finals, ...withdrawn, ...meanwhile, ...ofShares], pending: null };
  },
});

const told = (what: string): RemovedThing => ({ what, sha256: null, bytes: null });

async function withdrawOffers(shop: ShopToTell, meeting: PublicId, { ids }: Down): Promise<readonly RemovedThing[]> {
  const removed: RemovedThing[] = [];
  for (const offer of (await shop.offers()).filter((one) => one.meeting === meeting)) {
    const left = offerWithout(offer, ids);
    const fresh = left.withdrawn.slice(offer.withdrawn.length);
    if (fresh.length === 0) continue;
    await shop.putOffer(left);
    for (const id of fresh) removed.push(told(`offer ${offer.edition}: ${id}`));
  }
  return removed;
}

async function withdrawOrders(shop: ShopToTell, meeting: PublicId, gesture: GestureId, { pictures }: Down) {
  const removed: RemovedThing[] = [];
  for (const { state } of await shop.orders()) {
    if (state.placed?.meeting !== meeting) continue;
    const own = state.pictures.filter((picture) => pictures.has(picture));
    if (own.length === 0) continue;
    const fact = { kind: 'withdrawn', pictures: own, why: 'taken-down' } as const;
    await shop.tell(state.id, { key: `down-${gesture}`, fact });
    for (const picture of own) removed.push(told(`an order, its links and zip: ${picture}`));
  }
  return removed;
}

/** Of a service nobody reached, so that it is not forgotten. */
export const unreachedShop = (sentence: string): PlaceToClear => ({
  place: 'order service',
  kind: 'orders',
  clear: async () => ({ removed: [], pending: sentence }),
});

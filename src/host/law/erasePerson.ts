/**
 * Erasure: name, contact, card and bookings go at once, with a tombstone that wins wherever copies of the meeting meet. Orders keep
 * their money for the books; their contact goes when tax law lets it, and is named with the day until then. Pictures go by a takedown.
 * Regulation (EU) 2016/679, art. 17(1) and (3)(b). Rule LW20.
 */
import type { OrderId, StoredFact } from '../../core/handover/orders/index.js';
import type { PersonId } from '../../core/ids.js';
import type { EpochMs } from '../../core/units.js';
import type { People } from '../meeting/index.js';

export interface ErasedReport {
  readonly wasKnown: boolean;
  /** Orders whose contact may go now: for the order service to be told `contact-removed`. */
  readonly orders: readonly OrderId[];
  /** Orders whose contact is still wanted by tax law, and until when. */
  readonly keptUntil: readonly { readonly order: OrderId; readonly until: EpochMs }[];
}

const DAY_MS = 86_400_000;

export async function erasePerson(
  id: PersonId,
  people: Pick<People, 'get' | 'erase'>,
  orders: readonly StoredFact[],
  { keepOrderDays, now }: { readonly keepOrderDays: number; readonly now: number },
): Promise<ErasedReport> {
  const person = people.get(id);
  const contact = person?.contact?.trim().toLowerCase() ?? '';
  const removed = new Set(orders.filter(({ fact }) => fact.kind === 'contact-removed').map(({ order }) => order));
  const own = orders.filter(
    ({ order, fact }) =>
      contact !== '' &&
      !removed.has(order) &&
      fact.kind === 'placed' &&
      fact.contact.mail.trim().toLowerCase() === contact,
  );
  const ends = own.map(({ order, at }) => ({ order, until: (at + keepOrderDays * DAY_MS) as EpochMs }));
  await people.erase(id);
  return {
    wasKnown: person !== undefined,
    orders: ends.filter(({ until }) => until <= now).map(({ order }) => order),
    keptUntil: ends.filter(({ until }) => until > now),
  };
}

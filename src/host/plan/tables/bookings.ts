/**
 * What clients booked, in their words, stands in `people/`, where it can be erased; the log's entries name the person. For
 * whoever looks at the day the two are put together, in memory only.
 */
import { createHash } from 'node:crypto';
import type { PersonId } from '../../../core/ids.js';
import type { Decision, FoldedLog } from '../../../core/log/types.js';
import type { EntryLine } from '../../../core/plan/timetable/types.js';
import type { People, Person } from '../../meeting/people.js';

/** One person may book other things in another class. */
export const bookingKeyOf = (entry: Pick<EntryLine, 'event' | 'class' | 'number'>): string =>
  [entry.event, entry.class, entry.number].join(' / ');

/** A person's id where none is said: whoever booked under a number alone is the same whenever the list is taken. */
export const namelessOf = (entry: Pick<EntryLine, 'event' | 'class' | 'number'>): PersonId =>
  `entry-${createHash('sha256').update(bookingKeyOf(entry)).digest('hex').slice(0, 24)}` as PersonId;

/** Decisions from elsewhere than a list that was read: what was booked goes to `people/` before anything is logged. Rule PL254. */
export async function bookingsApart(
  decisions: readonly Decision[],
  people: Pick<People, 'all' | 'write' | 'isErased'>,
): Promise<readonly Decision[]> {
  const apart: Decision[] = [];
  // One after another: two entries of one person are two changes of one file.
  for (const decision of decisions) {
    if (decision.kind !== 'entries') apart.push(decision);
    else {
      const entries: EntryLine[] = [];
      for (const entry of decision.entries) entries.push(await bookingApart(entry, people));
      apart.push({ ...decision, entries });
    }
  }
  return apart;
}

export const hasBookings = (decision: Decision): boolean =>
  decision.kind === 'entries' && decision.entries.some(({ wants }) => wants !== undefined);

async function bookingApart(
  { wants, ...entry }: EntryLine,
  people: Pick<People, 'all' | 'write' | 'isErased'>,
): Promise<EntryLine> {
  if (wants === undefined) return entry;
  const id = (entry.person as PersonId | undefined) ?? namelessOf(entry);
  if (people.isErased(id)) return entry;
  const before: Pick<Person, 'id' | 'wants'> = people.all().find((person) => person.id === id) ?? { id };
  await people.write({ ...before, wants: { ...before.wants, [bookingKeyOf(entry)]: wants } });
  return { ...entry, person: id };
}

type Entries = Extract<Decision, { kind: 'entries' }>;

/** The same words give the very same decision, for what hangs on a decision is made again for another one. */
export function createBookings(get: (person: PersonId) => Pick<Person, 'wants'> | undefined) {
  const held = new WeakMap<Entries, { readonly words: string; readonly joined: Entries }>();
  const joinedOf = (decision: Entries): Entries => {
    const entries = decision.entries.map((entry): EntryLine => {
      const wants =
        entry.person === undefined ? undefined : get(entry.person as PersonId)?.wants?.[bookingKeyOf(entry)];
      return wants === undefined ? entry : { ...entry, wants };
    });
    const words = JSON.stringify(entries.map(({ wants }) => wants ?? null));
    const before = held.get(decision);
    if (before?.words === words) return before.joined;
    const joined = { ...decision, entries };
    held.set(decision, { words, joined });
    return joined;
  };
  return (log: FoldedLog): FoldedLog =>
    log.inForce.some(({ decision }) => decision.kind === 'entries')
      ? {
          ...log,
          inForce: log.inForce.map((one) =>
            one.decision.kind === 'entries' ? { ...one, decision: joinedOf(one.decision) } : one,
          ),
        }
      : log;
}

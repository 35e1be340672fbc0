/**
 * What clients booked, in their words, stands in `people/`, where it can be erased; the log's entries name the person. For
 * whoever looks at the day the two are put together, in memory only.
 */
import type { PersonId } from '../../../core/ids.js';
import type { Decision, FoldedLog } from '../../../core/log/types.js';
import type { EntryLine } from '../../../core/plan/timetable/types.js';
import type { Person } from '../../meeting/people.js';

type Entries = Extract<Decision, { kind: 'entries' }>;

/** One person may book other things in another class. */
export const bookingKeyOf = (entry: Pick<EntryLine, 'event' | 'class' | 'number'>): string =>
  [entry.event, entry.class, entry.number].join(' / ');

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

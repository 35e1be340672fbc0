/**
 * Taking an entry list: names, contacts and what was booked go to `people/`, where they can be erased; the decision for the log
 * holds ids alone.
 * The same rider in two classes, or on a list taken again, is one person. Of who was erased nothing is left to know them by: a
 * list that still names them brings them back, so the organiser's list is to be mended too.
 */
import type { PersonId } from '../../../core/ids.js';
import type { Decision } from '../../../core/log/types.js';
import { riderKeyOf } from '../../../core/plan/timetable/index.js';
import type { EntryLine, EntryRow } from '../../../core/plan/timetable/types.js';
import type { People, Person } from '../../meeting/people.js';
import { bookingKeyOf, namelessOf } from './bookings.js';

export async function takeEntries(
  entries: readonly EntryRow[],
  people: Pick<People, 'all' | 'write' | 'isErased'>,
  newId: () => string,
): Promise<Extract<Decision, { kind: 'entries' }>> {
  const idByRider = new Map(people.all().map((person) => [riderKeyOf(person), person.id]));
  const lines: EntryLine[] = [];
  for (const { at: _at, name, contact, wants, ...entry } of entries) {
    const said = { ...(name === undefined ? {} : { name }), ...(contact === undefined ? {} : { contact }) };
    const id = name !== undefined ? idOf(said) : wants !== undefined ? namelessOf(entry) : null;
    // Who booked under a number alone and was erased is known again by that number: they stay erased.
    if (id === null || people.isErased(id)) lines.push(entry);
    else {
      await writeDown(id, said, bookingKeyOf(entry), wants);
      lines.push({ ...entry, person: id });
    }
  }
  return { kind: 'entries', entries: lines };

  function idOf(rider: Pick<Person, 'name' | 'contact'>): PersonId {
    const id = idByRider.get(riderKeyOf(rider)) ?? (newId() as PersonId);
    idByRider.set(riderKeyOf(rider), id);
    return id;
  }

  /** Only where something new is said of them; a wish that the list no longer has is gone. */
  async function writeDown(
    id: PersonId,
    said: Pick<Person, 'name' | 'contact'>,
    entry: string,
    booked: string | undefined,
  ): Promise<void> {
    const before = people.all().find((person) => person.id === id);
    const { [entry]: bookedBefore, ...others } = before?.wants ?? {};
    if (before !== undefined && bookedBefore === booked) return;
    const wants = booked === undefined ? others : { ...others, [entry]: booked };
    const { changedAt: _changedAt, wants: _wants, ...known } = before ?? { id, changedAt: null };
    await people.write({ ...known, ...said, ...(Object.keys(wants).length === 0 ? {} : { wants }) });
  }
}

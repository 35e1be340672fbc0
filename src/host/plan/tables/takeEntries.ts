/**
 * Taking an entry list: names and contacts go to `people/`, where they can be erased; the decision for the log holds ids alone.
 * The same rider in two classes, or on a list taken again, is one person. Of who was erased nothing is left to know them by: a
 * list that still names them brings them back, so the organiser's list is to be mended too.
 */
import type { PersonId } from '../../../core/ids.js';
import type { Decision } from '../../../core/log/types.js';
import { riderKeyOf } from '../../../core/plan/timetable/index.js';
import type { EntryLine, EntryRow } from '../../../core/plan/timetable/types.js';
import type { People, Person } from '../../meeting/people.js';

export async function takeEntries(
  entries: readonly EntryRow[],
  people: Pick<People, 'all' | 'write'>,
  newId: () => string,
): Promise<Extract<Decision, { kind: 'entries' }>> {
  const idByRider = new Map(people.all().map((person) => [riderKeyOf(person), person.id]));
  const lines: EntryLine[] = [];
  for (const { at: _at, name, contact, ...entry } of entries) {
    if (name === undefined) lines.push(entry);
    else lines.push({ ...entry, person: await personOf({ name, ...(contact === undefined ? {} : { contact }) }) });
  }
  return { kind: 'entries', entries: lines };

  async function personOf(rider: Pick<Person, 'name' | 'contact'>): Promise<PersonId> {
    const known = idByRider.get(riderKeyOf(rider));
    if (known !== undefined) return known;
    const { id } = await people.write({ id: newId() as PersonId, ...rider });
    idByRider.set(riderKeyOf(rider), id);
    return id;
  }
}

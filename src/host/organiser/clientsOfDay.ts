/** Clients of the day as it stands. Names are in `people/`; those of riders who are not of age are told to nobody. */
import { minorPersons } from '../../core/finish/index.js';
import { type ClientsView, clientsView } from '../../core/handover/organiser/index.js';
import type { PersonId, SpotId } from '../../core/ids.js';
import type { WallMs } from '../../core/units.js';
import { entriesOf, spotsOf } from '../day/derive.js';
import type { DayState } from '../day/types.js';
import type { Person } from '../meeting/index.js';

type State = Pick<DayState, 'about' | 'log' | 'timetable' | 'arrangement' | 'coverage'>;

export function clientsOfDay(
  state: State,
  people: { get(id: PersonId): Pick<Person, 'name'> | undefined } | undefined,
  asOf: WallMs,
): ClientsView {
  const { about, log, timetable, arrangement, coverage } = state;
  const unnamed = minorPersons(log);
  return clientsView({
    meeting: about.name,
    arrangement,
    coverage,
    timetable,
    log,
    entries: entriesOf(log) ?? [],
    spots: spotsOf(log, about.spots).map(({ id, name }) => ({ id: id as SpotId, name })),
    asOf,
    photographer: about.creator ?? null,
    nameOf: (person) => (unnamed.has(person as PersonId) ? null : (people?.get(person as PersonId)?.name ?? null)),
  });
}

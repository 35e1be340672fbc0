/**
 * Riders who are not of age. Without a parent's consent they are shown nowhere; with it they are shown, and their name still
 * stands beside no picture and is found by no search. Rules LW15 and LW16 in docs/rules/law.md.
 */
import type { Arrangement } from '../arrange/types.js';
import type { PersonId, RiderId, RiderKey } from '../ids.js';
import type { MinorSaid } from '../log/minorSaid.js';
import type { FoldedLog } from '../log/types.js';
import { ridersOfPersons } from './personsRiders.js';

export type Minor = Exclude<MinorSaid, 'of-age'>;

/** Where two words meet on one rider, as after a merge, the more careful one stands. */
export function minorsOf(arrangement: Arrangement, log: Pick<FoldedLog, 'inForce'>): ReadonlyMap<RiderKey, Minor> {
  const byRider = new Map<RiderId, MinorSaid>();
  const byPerson = new Map<PersonId, MinorSaid>();
  for (const { decision } of log.inForce) {
    if (decision.kind !== 'minor') continue;
    if (decision.rider !== undefined) byRider.set(decision.rider, decision.is);
    if (decision.person !== undefined) byPerson.set(decision.person, decision.is);
  }
  const minors = new Map<RiderKey, Minor>();
  const note = (rider: RiderKey, is: MinorSaid): void => {
    if (is !== 'of-age' && minors.get(rider) !== 'without-consent') minors.set(rider, is);
  };
  for (const { key, id, aliases } of byRider.size === 0 ? [] : arrangement.riders)
    for (const name of id === null ? aliases : [id, ...aliases]) note(key, byRider.get(name) ?? 'of-age');
  for (const [person, is] of byPerson)
    for (const rider of ridersOfPersons(arrangement, log, new Set([person]))) note(rider, is);
  return minors;
}

/** Persons whose name is told to nobody, whatever the organiser allows. */
export const minorPersons = (log: Pick<FoldedLog, 'inForce'>): ReadonlySet<PersonId> => {
  const last = new Map<PersonId, MinorSaid>();
  for (const { decision } of log.inForce)
    if (decision.kind === 'minor' && decision.person !== undefined) last.set(decision.person, decision.is);
  return new Set([...last].filter(([, is]) => is !== 'of-age').map(([person]) => person));
};

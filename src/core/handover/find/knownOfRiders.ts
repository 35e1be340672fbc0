/** What entry list and people say of riders, so that they can be looked for by it. */
import type { Arrangement, Rider } from '../../arrange/types.js';
import { minorPersons, minorsOf } from '../../finish/index.js';
import { ridersOfPersons } from '../../finish/personsRiders.js';
import type { PersonId, RiderKey } from '../../ids.js';
import type { FoldedLog } from '../../log/types.js';
import type { EntryLine } from '../../plan/timetable/types.js';
import { type KnownOfRider, NOTHING_KNOWN } from './ridersOf.js';

export interface PeopleKnown {
  readonly persons: readonly { readonly id: PersonId; readonly name?: string; readonly cardToken?: string }[];
  /** The organiser allows that riders are looked for by name. */
  readonly mayBeNamed: boolean;
}

export function knownOfRiders(
  arrangement: Arrangement,
  log: Pick<FoldedLog, 'inForce'>,
  { persons, mayBeNamed }: PeopleKnown,
): (rider: { readonly key: RiderKey }) => KnownOfRider {
  const said = log.inForce.findLast(({ decision }) => decision.kind === 'entries')?.decision;
  const entries = said?.kind === 'entries' ? said.entries : [];
  const known = new Map<RiderKey, KnownOfRider>(
    arrangement.riders.map((rider) => [rider.key, { ...NOTHING_KNOWN, class: classOf(rider, entries) }]),
  );
  const minors = minorsOf(arrangement, log);
  const unnamed = minorPersons(log);
  for (const { id, name, cardToken } of persons)
    for (const key of ridersOfPersons(arrangement, log, new Set([id]))) {
      const isNamed = mayBeNamed && !unnamed.has(id) && !minors.has(key);
      const before = known.get(key);
      if (before === undefined) continue;
      known.set(key, {
        ...before,
        name: isNamed && name !== undefined ? [before.name, name].filter(Boolean).join(' ') : before.name,
        card: cardToken ?? before.card,
      });
    }
  return ({ key }) => known.get(key) ?? NOTHING_KNOWN;
}

/** Of entries of several classes under one number none, unless the rider was out with one of them alone. */
function classOf({ number, groups }: Rider, entries: readonly EntryLine[]): string | null {
  const classes = new Set(
    entries.filter((entry) => number !== null && entry.number === number).map((one) => one.class),
  );
  const here = [...classes].filter((one) => groups.includes(one));
  const [only, ...others] = here.length > 0 ? here : [...classes];
  return only === undefined || only === '' || others.length > 0 ? null : only;
}

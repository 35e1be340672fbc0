/** Whose name may stand anywhere the public looks: the organiser allows it, and nobody who is not of age. Rule LW16. */
import type { Arrangement } from '../../arrange/types.js';
import { minorPersons, minorsOf } from '../../finish/index.js';
import type { PersonId, RiderKey } from '../../ids.js';
import type { FoldedLog } from '../../log/types.js';

export interface MayBeNamed {
  rider(rider: RiderKey): boolean;
  person(person: PersonId): boolean;
}

export function mayBeNamed(
  arrangement: Arrangement,
  log: Pick<FoldedLog, 'inForce'>,
  isAllowedByOrganiser: boolean,
): MayBeNamed {
  const riders = minorsOf(arrangement, log);
  const persons = minorPersons(log);
  return {
    rider: (rider) => isAllowedByOrganiser && !riders.has(rider),
    person: (person) => isAllowedByOrganiser && !persons.has(person),
  };
}

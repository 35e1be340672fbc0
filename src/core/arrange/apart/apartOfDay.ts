/** Which frames stand apart from the day's sessions: as guessed, and above that as a person said. */
import type { FileId } from '../../ids.js';
import type { DecisionOf } from '../decisions.js';
import type { SeenDay } from '../passesOfDay.js';
import { findApart } from './findApart.js';
import type { ApartOrNot } from './types.js';

/** Per exposure of `seen`. */
export function apartOfDay(
  seen: SeenDay,
  walls: readonly (number | null)[],
  order: readonly number[],
  words: readonly DecisionOf<'apart'>[],
): readonly ApartOrNot[] {
  const said = new Map<FileId, DecisionOf<'apart'>['is']>(words.map(({ file, is }) => [file, is]));
  const found = findApart(
    order.map((i) => ({
      wall: walls[i] ?? null,
      body: seen.exposures[i]!.body,
      role: seen.roles[i]!,
      measured: seen.measured[i] ?? null,
      metadata: seen.exposures[i]!.main.metadata,
    })),
  );
  const apart: ApartOrNot[] = seen.exposures.map(() => null);
  order.forEach((i, at) => {
    const word = seen.exposures[i]!.files.map((file) => said.get(file)).findLast((is) => is !== undefined);
    if (word === undefined) apart[i] = found[at]!;
    else apart[i] = word === 'session' ? null : { is: word, source: { kind: 'said' } };
  });
  return apart;
}

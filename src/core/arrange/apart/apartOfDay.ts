/** Which frames stand apart from the day's sessions: as guessed, and above that as a person said; and which perhaps do. */
import type { FileId } from '../../ids.js';
import type { DecisionOf } from '../decisions.js';
import type { SeenDay } from '../passesOfDay.js';
import { findApart, isSure } from './findApart.js';
import type { ApartOrNot } from './types.js';

/** Per exposure of `seen`. */
interface ApartOfDay {
  readonly apart: readonly ApartOrNot[];
  /** Likelier apart than not, and nobody said: it stays where it is until somebody does. */
  readonly perhaps: readonly ApartOrNot[];
}

export function apartOfDay(
  seen: SeenDay,
  walls: readonly (number | null)[],
  order: readonly number[],
  words: readonly DecisionOf<'apart'>[],
): ApartOfDay {
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
  const perhaps: ApartOrNot[] = seen.exposures.map(() => null);
  order.forEach((i, at) => {
    const word = seen.exposures[i]!.files.map((file) => said.get(file)).findLast((is) => is !== undefined);
    const guess = found[at]!;
    if (word === undefined) (guess !== null && isSure(guess) ? apart : perhaps)[i] = guess;
    else apart[i] = word === 'session' ? null : { is: word, source: { kind: 'said' } };
  });
  return { apart, perhaps };
}

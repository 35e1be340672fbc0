/**
 * Whose code is whose, after what people said: codes are given to riders as found, which no answer changes, and each goes
 * with the larger part of its rider. So a word about one rider renames no other.
 */
import type { RiderKey } from '../../ids.js';
import { codesFor } from './codes.js';

interface CodeAnchor {
  readonly group: string | null;
  /** First bike of the rider. */
  readonly anchor: string;
}

export interface RiderParts extends CodeAnchor {
  /** Known by this bike when it was minted; null for whoever was not. */
  readonly shownAs: RiderKey | null;
  /** Per rider as found, how many of its passes are this one's now. */
  readonly parts: ReadonlyMap<number, number>;
}

export function codesOfRiders(found: readonly CodeAnchor[], riders: readonly RiderParts[]): readonly string[] {
  const given = codesFor(found);
  const owner = ownersOf(riders, found.length);
  const kept = riders.map((rider, r) => keptCode(rider, r, owner, found));
  const fresh = riders.filter((_, r) => kept[r] === null);
  const freshCodes = codesFor(
    fresh.map(({ group, anchor, shownAs }) => ({ group, anchor: shownAs ?? anchor })),
    given,
  );
  return riders.map((rider, r) => {
    const at = kept[r]!;
    return at === null ? freshCodes[fresh.indexOf(rider)]! : given[at]!;
  });
}

/** Per rider as found who has the larger part of it; of equals the first. */
function ownersOf(riders: readonly RiderParts[], count: number): Int32Array {
  const owner = new Int32Array(count).fill(-1);
  const most = new Int32Array(count);
  riders.forEach(({ parts }, r) => {
    for (const [at, size] of parts) {
      if (size <= most[at]!) continue;
      most[at] = size;
      owner[at] = r;
    }
  });
  return owner;
}

/** Of the riders as found whose larger part it is, the one it is known by, else the largest; null for none. */
function keptCode(
  { shownAs, parts }: RiderParts,
  rider: number,
  owner: Int32Array,
  found: readonly CodeAnchor[],
): number | null {
  const own = [...parts].filter(([at]) => owner[at] === rider).sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  if (shownAs !== null) return own.find(([at]) => found[at]!.anchor === shownAs)?.[0] ?? null;
  return own[0]?.[0] ?? null;
}

/** Who of an entry list was never seen. Numbers only: the list's names stay out of core. Rules CV11–CV13. */
import type { Arrangement, Rider } from '../arrange/types.js';
import type { Coverage, Entry } from './types.js';

/** A guessed number below this confidence does not count as having seen an entry: a false "seen" costs a rider. */
const SURE_ENOUGH = 0.8;

export function neverSeen(
  arrangement: Arrangement,
  entries: readonly Entry[] | null,
): Required<Pick<Coverage, 'neverSeen' | 'cannotTell'>> {
  if (entries === null) return { neverSeen: null, cannotTell: [] };
  const riders = arrangement.riders.filter((rider) => rider.passes.length > 0);
  const unseen = entries.filter((entry) => entry.number !== undefined && !riders.some((rider) => shows(rider, entry)));
  return {
    neverSeen: unseen.map(({ number, words }) => (number === undefined ? { words } : { number, words })),
    cannotTell: entries.filter((entry) => entry.number === undefined).map(({ words }) => ({ words })),
  };
}

/** In a race meeting a number is told apart by class: the same number may be entered in two. */
function shows(rider: Rider, entry: Entry): boolean {
  if (rider.number === null || plain(rider.number) !== plain(entry.number!)) return false;
  if (rider.numberSource?.kind === 'guessed' && rider.numberSource.confidence < SURE_ENOUGH) return false;
  return entry.class === undefined || rider.groups.length === 0 || rider.groups.includes(entry.class);
}

const plain = (number: string): string => number.trim().toUpperCase();

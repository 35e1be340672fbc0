/**
 * Which fill a card is the next look at: by overlap of path, size and time, never by label.
 * All times may be off by one whole number of quarter hours: cards keep wall time, and the computer's zone may change.
 */
import { isDcfPath } from './dcf.js';
import { pathOnCard, pathOnDisk } from './names.js';
import type { CardFile, Fill, FillFile } from './types.js';

const quarterHourMs = 15 * 60_000;
const furthestShiftMs = 26 * 3_600_000;
/** FAT keeps odd seconds out and libraries round: what two listings of one file may differ by. */
const timeToleranceMs = 2;

/** The fill that shares most with the listing, and the shift of the clock between them; null for a card never seen. */
export function recogniseFill(
  files: readonly CardFile[],
  destinations: readonly (readonly Fill[])[],
): { readonly fill: Fill; readonly shiftMs: number } | null {
  let best: { fill: Fill; shiftMs: number; shared: number } | null = null;
  for (const fill of destinations.flat()) {
    const overlap = overlapWith(files, fill.files);
    if (overlap.shared > (best?.shared ?? 0)) best = { fill, ...overlap };
  }
  return best === null ? null : { fill: best.fill, shiftMs: best.shiftMs };
}

/**
 * Shared pictures tell one card from another; what cameras write alike on every card does not. Where there is no
 * picture to go by, the card must hold everything the fill does: a stop may come before the first picture.
 */
function overlapWith(files: readonly CardFile[], known: readonly FillFile[]): { shared: number; shiftMs: number } {
  const shiftMs = likeliestShift(files, known);
  const find = sameFileAs(known, shiftMs, files);
  const matched = files.filter((file) => find(file) !== undefined);
  const pictures = matched.filter((file) => file.bytes > 0 && isDcfPath(file.path)).length;
  const isAllThere = new Set(matched.map((file) => find(file)!.path)).size === known.length;
  const hasPictures = [...files, ...known].some((file) => isDcfPath(pathOnCard(file.path)));
  const others = isAllThere || !hasPictures ? matched.length : 0;
  return { shared: pictures > 0 ? matched.length : others, shiftMs };
}

/** Empty files say nothing of the clock. Of equal counts the smaller shift is meant. */
function likeliestShift(files: readonly CardFile[], known: readonly FillFile[]): number {
  const candidatesOf = candidatesIn(known, files);
  const votes = new Map<number, number>();
  for (const file of files) {
    if (file.bytes === 0) continue;
    for (const shift of shiftsOf(file, candidatesOf(file))) {
      votes.set(shift, (votes.get(shift) ?? 0) + 1);
    }
  }
  const ranked = [...votes].sort((a, b) => b[1] - a[1] || Math.abs(a[0]) - Math.abs(b[0]));
  return ranked[0]?.[0] ?? 0;
}

function shiftsOf(file: CardFile, candidates: readonly FillFile[]): ReadonlySet<number> {
  const shifts = new Set<number>();
  for (const candidate of candidates) {
    const difference = file.modified - candidate.modified;
    const shift = Math.round(difference / quarterHourMs) * quarterHourMs;
    if (candidate.bytes !== file.bytes || Math.abs(shift) > furthestShiftMs) continue;
    if (Math.abs(difference - shift) <= timeToleranceMs) shifts.add(shift === 0 ? 0 : shift);
  }
  return shifts;
}

/** Finds, among what a fill holds, the file that a listed one is a later look at: same path, size and time. */
export function sameFileAs(
  held: readonly FillFile[],
  shiftMs: number,
  listed: readonly CardFile[],
): (file: CardFile) => FillFile | undefined {
  const candidatesOf = candidatesIn(held, listed);
  return (file) => candidatesOf(file).find((known) => isSame(file, known, shiftMs));
}

/**
 * Held files a listed one may be: the one of its path, then those kept beside it when another had its name. What the
 * card itself lists by that very path is never taken for one of these.
 */
function candidatesIn(held: readonly FillFile[], listed: readonly CardFile[]): (file: CardFile) => readonly FillFile[] {
  const own = new Set(listed.map((file) => pathOnDisk(file.path)));
  const beside = held.filter((file) => !own.has(file.path) && pathOnCard(file.path) !== file.path);
  const besideByPath = groupBy(beside, (file) => pathOnCard(file.path));
  const byPath = new Map(held.map((file) => [file.path, file]));
  return (file) => {
    const wanted = pathOnDisk(file.path);
    const exact = byPath.get(wanted);
    return [...(exact === undefined ? [] : [exact]), ...(besideByPath.get(wanted) ?? [])];
  };
}

const isSame = (file: CardFile, known: FillFile, shiftMs: number): boolean =>
  known.bytes === file.bytes && Math.abs(file.modified - known.modified - shiftMs) <= timeToleranceMs;

function groupBy<Item>(items: readonly Item[], keyOf: (item: Item) => string): ReadonlyMap<string, readonly Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group) group.push(item);
    else groups.set(keyOf(item), [item]);
  }
  return groups;
}

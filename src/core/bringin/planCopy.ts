/**
 * What is to be copied from a card, decided before anything is touched.
 * A fill is recognised by overlap of path, size and time, never by label. The content of a file decides last: host
 * compares hashes wherever the plan can only suspect.
 */
import type { FileId, FillId } from '../ids.js';
import { isDcfPath } from './dcf.js';
import { keptBeside, pathOnCard, pathOnDisk } from './names.js';
import type { CardFile, CardListing, CopyPlan, CopyStep, Fill, FillFile } from './types.js';

/** Id and folder to use should this be a new fill; minted by the caller, for core has no randomness. */
export interface FreshFill {
  readonly id: FillId;
  readonly folder: string;
}

const quarterHourMs = 15 * 60_000;
const furthestShiftMs = 26 * 3_600_000;
/** FAT keeps odd seconds out and libraries round: what two listings of one file may differ by. */
const timeToleranceMs = 2;

/** Steps for every listed file, in the listing's order. `destinations` holds what each destination has of all fills. */
export function planCopy(listing: CardListing, destinations: readonly (readonly Fill[])[], fresh: FreshFill): CopyPlan {
  const known = recogniseFill(listing.files, destinations);
  const held = destinations.map((fills) => fills.find((fill) => fill.id === known?.fill.id)?.files ?? []);
  const planner = startPlanner(held, known?.shiftMs ?? 0);
  const steps = listing.files.map((file) => planner.stepFor(file));
  const all = destinations.map((_, index) => index);
  const copied = steps.filter((step) => step.kind !== 'already-here');
  return {
    fill: known?.fill.id ?? fresh.id,
    folder: known?.fill.folder ?? fresh.folder,
    isNewFill: known === null,
    steps,
    bytesToCopy: sumOf(copied.map((step) => step.file.bytes)),
    bytesOnto: all.map((index) =>
      sumOf(copied.filter((step) => ontoOf(step, all).includes(index)).map((s) => s.file.bytes)),
    ),
  };
}

const ontoOf = (step: CopyStep, all: readonly number[]): readonly number[] =>
  step.kind === 'already-here' ? [] : (step.onto ?? all);
const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

/** The fill this card is the next look at, and by how much its clock seems shifted (a card read under another zone). */
export function recogniseFill(
  files: readonly CardFile[],
  destinations: readonly (readonly Fill[])[],
): { readonly fill: Fill; readonly shiftMs: number } | null {
  const weighty = files.some((file) => isDcfPath(file.path)) ? files.filter((file) => isDcfPath(file.path)) : files;
  let best: { fill: Fill; shiftMs: number; shared: number } | null = null;
  for (const fill of destinations.flat()) {
    const overlap = overlapWith(weighty, fill.files);
    if (overlap.shared > (best?.shared ?? 0)) best = { fill, ...overlap };
  }
  return best === null ? null : { fill: best.fill, shiftMs: best.shiftMs };
}

/** Files shared by path, size and time. Empty files say nothing; all times may be off by one whole number of quarter hours. */
function overlapWith(files: readonly CardFile[], known: readonly FillFile[]): { shared: number; shiftMs: number } {
  const byPath = groupBy(known, (file) => pathOnCard(file.path));
  const votes = new Map<number, number>();
  for (const file of files) {
    if (file.bytes === 0) continue;
    for (const shift of shiftsOf(file, byPath.get(pathOnDisk(file.path)) ?? [])) {
      votes.set(shift, (votes.get(shift) ?? 0) + 1);
    }
  }
  const ranked = [...votes].sort((a, b) => b[1] - a[1] || Math.abs(a[0]) - Math.abs(b[0]));
  return { shared: ranked[0]?.[1] ?? 0, shiftMs: ranked[0]?.[0] ?? 0 };
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

interface Planner {
  stepFor(file: CardFile): CopyStep;
}

function startPlanner(held: readonly (readonly FillFile[])[], shiftMs: number): Planner {
  const all = held.map((_, index) => index);
  const finders = held.map((files) => sameFileAs(files, shiftMs));
  const taken = new Set(held.flat().map((file) => foldName(file.path)));

  const stepFor = (file: CardFile): CopyStep => {
    const found = finders.map((find) => find(file));
    const vouched = found.find((known) => known !== undefined);
    if (vouched)
      return stepForKnown(
        file,
        vouched,
        all.filter((index) => found[index] === undefined),
      );
    const wanted = pathOnDisk(file.path);
    const to = freeName(wanted, taken);
    taken.add(foldName(to));
    return to === wanted ? { kind: 'copy', file, to, onto: all } : { kind: 'keep-both', file, to, onto: all };
  };
  return { stepFor };
}

function stepForKnown(file: CardFile, vouched: FillFile, missing: readonly number[]): CopyStep {
  return missing.length === 0
    ? { kind: 'already-here', file, fileId: vouched.fileId, to: vouched.path }
    : { kind: 'copy', file, to: vouched.path, onto: missing, expected: vouched.fileId as FileId };
}

/** Finds, among what a fill holds, the file that a listed one is a later look at: same path, size and time. */
export function sameFileAs(held: readonly FillFile[], shiftMs: number): (file: CardFile) => FillFile | undefined {
  const byCardPath = groupBy(held, (file) => pathOnCard(file.path));
  const byPath = new Map(held.map((file) => [file.path, file]));
  return (file) => {
    const wanted = pathOnDisk(file.path);
    const exact = byPath.get(wanted);
    if (exact && isSame(file, exact, shiftMs)) return exact;
    return byCardPath.get(wanted)?.find((known) => isSame(file, known, shiftMs));
  };
}

const isSame = (file: CardFile, known: FillFile, shiftMs: number): boolean =>
  known.bytes === file.bytes && Math.abs(file.modified - known.modified - shiftMs) <= timeToleranceMs;

/** Two names that differ only by case or by Unicode form are one file on many disks. */
const foldName = (path: string): string => path.normalize('NFC').toLowerCase();

function freeName(wanted: string, taken: ReadonlySet<string>): string {
  let name = wanted;
  for (let nth = 2; taken.has(foldName(name)); nth++) name = keptBeside(wanted, nth);
  return name;
}

function groupBy<Item>(items: readonly Item[], keyOf: (item: Item) => string): ReadonlyMap<string, readonly Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group) group.push(item);
    else groups.set(keyOf(item), [item]);
  }
  return groups;
}

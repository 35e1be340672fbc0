/**
 * What is to be copied from a card, decided before anything is touched.
 * The content of a file decides last: host compares hashes wherever the plan can only suspect.
 */
import type { FileId, FillId } from '../ids.js';
import { keptBeside, pathOnDisk } from './names.js';
import { recogniseFill, sameFileAs } from './recogniseFill.js';
import type { CardFile, CardListing, CopyPlan, CopyStep, Fill, FillFile } from './types.js';

/** Id and folder to use should this be a new fill; minted by the caller, for core has no randomness. */
export interface FreshFill {
  readonly id: FillId;
  readonly folder: string;
}

/** Steps for every listed file, in the listing's order. `destinations` holds what each destination has of all fills. */
export function planCopy(listing: CardListing, destinations: readonly (readonly Fill[])[], fresh: FreshFill): CopyPlan {
  const known = recogniseFill(listing.files, destinations);
  const held = destinations.map((fills) => fills.find((fill) => fill.id === known?.fill.id));
  const planner = startPlanner(held, known?.shiftMs ?? 0, listing.files);
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

interface Planner {
  stepFor(file: CardFile): CopyStep;
}

function startPlanner(fills: readonly (Fill | undefined)[], shiftMs: number, listed: readonly CardFile[]): Planner {
  const held = fills.map((fill) => fill?.files ?? []);
  const all = held.map((_, index) => index);
  const finders = held.map((files) => sameFileAs(files, shiftMs, listed));
  const taken = new Set(held.flat().map((file) => foldName(file.path)));
  const reserved = new Set(listed.map((file) => foldName(pathOnDisk(file.path))));

  const stepFor = (file: CardFile): CopyStep => {
    const found = finders.map((find) => find(file));
    const vouched = found.find((known) => known !== undefined);
    if (vouched)
      return stepForKnown(
        file,
        vouched,
        all.filter((index) => {
          const known = found[index];
          return known === undefined || fills[index]?.gone?.has(known.path) === true;
        }),
      );
    const wanted = pathOnDisk(file.path);
    const to = taken.has(foldName(wanted)) ? freeName(wanted, (name) => taken.has(name) || reserved.has(name)) : wanted;
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

/** Two names that differ only by case or by Unicode form are one file on many disks. */
const foldName = (path: string): string => path.normalize('NFC').toLowerCase();

function freeName(wanted: string, isTaken: (folded: string) => boolean): string {
  for (let nth = 2; ; nth++) {
    const name = keptBeside(wanted, nth);
    if (!isTaken(foldName(name))) return name;
  }
}

/**
 * The order in which one body took its frames, from folders and file numbers alone: what remains true when its clock
 * was mended half-way. Within one folder 9999 is followed by 0001 (DCF, JEITA CP-3461, section 3.2.1).
 */
import { compareText, type RawExposure } from './exposures.js';

/** Indices of `exposures` in shooting order. */
export function shootingOrder(exposures: readonly RawExposure[]): readonly number[] {
  const folders = new Map<string, number[]>();
  exposures.forEach((exposure, i) => {
    const key = `${exposure.fill}\n${exposure.folder}`;
    const list = folders.get(key);
    if (list === undefined) folders.set(key, [i]);
    else list.push(i);
  });
  const fillStarts = startOfEachFill(exposures);
  return [...folders.values()]
    .map((list) => unrolled(list, exposures))
    .sort((a, b) => {
      const first = exposures[a[0]!]!;
      const second = exposures[b[0]!]!;
      return (
        fillStarts.get(first.fill)! - fillStarts.get(second.fill)! ||
        compareText(first.fill, second.fill) ||
        compareText(first.folder, second.folder)
      );
    })
    .flat();
}

function startOfEachFill(exposures: readonly RawExposure[]): ReadonlyMap<string, number> {
  const starts = new Map<string, number>();
  for (const { fill, recorded } of exposures) {
    const time = typeof recorded === 'number' ? recorded : Number.MAX_SAFE_INTEGER;
    starts.set(fill, Math.min(time, starts.get(fill) ?? Number.MAX_SAFE_INTEGER));
  }
  return starts;
}

function unrolled(list: readonly number[], exposures: readonly RawExposure[]): readonly number[] {
  const numberOf = (i: number): number => exposures[i]!.fileNumber ?? -1;
  const start = startAfterRollover(list.map(numberOf).filter((n) => n >= 0));
  const place = (i: number): number => (numberOf(i) < 0 ? -1 : (numberOf(i) - start + 10_000) % 10_000);
  return [...list].sort((a, b) => place(a) - place(b) || compareText(exposures[a]!.path, exposures[b]!.path));
}

/** The first number taken: the one after the widest hole, where both ends of the numbering are in use; else 0. */
export function startAfterRollover(numbers: readonly number[]): number {
  const sorted = [...new Set(numbers)].sort((a, b) => a - b);
  const touchesBothEnds = sorted.length > 1 && sorted[0]! < 1000 && sorted.at(-1)! > 9000;
  if (!touchesBothEnds) return 0;
  let start = 0;
  let widest = 10_000 - sorted.at(-1)! + sorted[0]!;
  for (let i = 1; i < sorted.length; i++) {
    const hole = sorted[i]! - sorted[i - 1]!;
    if (hole <= widest) continue;
    widest = hole;
    start = sorted[i]!;
  }
  return start;
}

/**
 * Asks a laid index. The same code runs in the gallery's pages and here: it knows neither disk nor network, and reads
 * through `read` what it needs, each file once.
 */
import { GUESS_MARK, numberKey, placeOf } from './keys.js';
import { type Run, readRuns } from './runs.js';
import type { Criterion, FindFacet, FoundRider, Why } from './types.js';

/** What lies where, read once. */
export interface Top {
  readonly meeting: string;
  /** First entry of each rider, and behind the last one the count of all. */
  readonly starts: readonly number[];
  readonly fileOf: (facet: FindFacet, place: string) => number | null;
  readonly near: (facet: FindFacet, key: string) => readonly string[];
}

export function readTop(text: string): Top {
  const [head, counts, ...lines] = text.split('\n');
  const [word, version, meeting] = (head ?? '').split(' ');
  if (word !== 'find' || version !== '1' || meeting === undefined)
    throw new Error(`Expected an index of version 1 but its list begins with "${head}". Make the gallery again.`);
  const files = new Map<string, number>();
  const beside = new Map<string, readonly string[]>();
  for (const [n, line] of lines.entries()) {
    const [facet, ...keys] = line.split(' ');
    if (facet === GUESS_MARK) beside.set(`${keys[0]} ${keys[1]}`, keys.slice(2));
    else for (const place of keys) files.set(`${facet} ${place}`, n);
  }
  return {
    meeting,
    starts: startsOf(counts ?? ''),
    fileOf: (facet, place) => files.get(`${facet} ${place}`) ?? null,
    near: (facet, key) => beside.get(`${facet} ${key}`) ?? [],
  };
}

function startsOf(counts: string): readonly number[] {
  const starts = [0];
  for (const count of counts.split(' ')) if (count !== '') starts.push(starts.at(-1)! + Number.parseInt(count, 36));
  return starts;
}

interface Hit extends Why {
  readonly runs: readonly Run[];
}

/** Best first: fewest that are only near, then most that are met exactly, then in the order of the day. */
export async function search(
  top: Top,
  criteria: readonly Criterion[],
  read: (file: number) => Promise<string>,
): Promise<readonly FoundRider[]> {
  const asked = criteria.filter(({ keys }) => keys.length > 0);
  if (asked.length === 0) return [];
  const hits = await Promise.all(asked.map((criterion) => hitsOf(top, criterion, read)));
  const marks = new Marks(top.starts.at(-1)!);
  for (const ofOne of hits) marks.mark(ofOne);
  return ranked(top, marks, hits);
}

/** What fits a criterion: first exactly, then near. */
async function hitsOf(
  top: Top,
  { facet, keys }: Criterion,
  read: (file: number) => Promise<string>,
): Promise<readonly Hit[]> {
  const wanted = facet === 'number' ? keys.map(numberKey).filter((key) => key !== '') : keys;
  const near = wanted.flatMap((key) => top.near(facet, key)).filter((key) => !wanted.includes(key));
  const files = new Set([...wanted, ...near].map((key) => top.fileOf(facet, placeOf(facet, key))));
  files.delete(null);
  const texts = await Promise.all([...files].map((file) => read(file!)));
  const hits: Hit[] = [];
  for (const line of texts.join('').split('\n')) {
    const [key, runs] = line.split('\t');
    if (key === undefined || runs === undefined) continue;
    const is = fits(facet, key, wanted, near);
    if (is !== null) hits.push({ facet, key: key.replace(GUESS_MARK, ''), is, runs: readRuns(runs) });
  }
  return hits;
}

function fits(facet: FindFacet, key: string, wanted: readonly string[], near: readonly string[]): Why['is'] | null {
  if (wanted.includes(key)) return 'exact';
  if (facet !== 'number') return near.includes(key) ? 'near' : null;
  const plain = key.replace(GUESS_MARK, '');
  if (wanted.includes(plain)) return 'guess';
  return wanted.some((one) => plain.startsWith(one)) ? 'near' : null;
}

/** What a criterion costs that is met otherwise than exactly. */
const COST = { exact: 0, guess: 1, near: 2 } as const;

/** For every entry: how many criteria it meets, what that costs, and how many keys it meets exactly. */
class Marks {
  readonly #met: Uint8Array;
  readonly #cost: Uint8Array;
  readonly #exact: Uint8Array;
  #criteria = 0;

  constructor(entries: number) {
    this.#met = new Uint8Array(entries);
    this.#cost = new Uint8Array(entries);
    this.#exact = new Uint8Array(entries);
  }

  mark(hits: readonly Hit[]): void {
    const before = this.#criteria++;
    for (const way of ['exact', 'guess', 'near'] as const)
      for (const { is, runs } of hits) if (is === way) this.#markRuns(runs, before, way);
  }

  #markRuns(runs: readonly Run[], before: number, way: Why['is']): void {
    for (const [from, length] of runs)
      for (let entry = from; entry < from + length; entry++) {
        if (this.#met[entry] === before) {
          this.#met[entry] = this.#criteria;
          this.#cost[entry]! += COST[way];
        }
        if (way === 'exact' && this.#met[entry] === this.#criteria) this.#exact[entry]! += 1;
      }
  }

  /** Less is better; null where a criterion is not met. */
  costOf(entry: number): number | null {
    if (this.#met[entry] !== this.#criteria) return null;
    return this.#cost[entry]! * 256 - this.#exact[entry]!;
  }
}

function ranked(top: Top, marks: Marks, hits: readonly (readonly Hit[])[]): readonly FoundRider[] {
  const found: { readonly rider: number; readonly cost: number; readonly entry: number; readonly pictures: number }[] =
    [];
  for (let rider = 0; rider + 1 < top.starts.length; rider++) {
    let cost: number | null = null;
    let first = 0;
    let pictures = 0;
    for (let entry = top.starts[rider]!; entry < top.starts[rider + 1]!; entry++) {
      const own = marks.costOf(entry);
      if (own === null || (cost !== null && own > cost)) continue;
      if (own === cost) pictures += 1;
      else [cost, first, pictures] = [own, entry, 1];
    }
    if (cost !== null) found.push({ rider, cost, entry: first, pictures });
  }
  found.sort((a, b) => a.cost - b.cost || a.rider - b.rider);
  return found.map(({ rider, entry, pictures }) => {
    const ofEntry = hits.map((ofOne) => whyOf(ofOne, entry));
    return { rider, pictures, why: ofEntry };
  });
}

/** Exact before guess before near, whatever file it came from. */
function whyOf(hits: readonly Hit[], entry: number): Why {
  const here = hits.filter(({ runs }) => holds(runs, entry));
  const { facet, key, is } =
    here.find((hit) => hit.is === 'exact') ?? here.find((hit) => hit.is === 'guess') ?? here[0]!;
  return { facet, key, is };
}

function holds(runs: readonly Run[], entry: number): boolean {
  let low = 0;
  let high = runs.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (runs[middle]![0] <= entry) low = middle + 1;
    else high = middle;
  }
  const run = runs[low - 1];
  return run !== undefined && entry < run[0] + run[1];
}

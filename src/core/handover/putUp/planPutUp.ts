/**
 * The steps that make of what lies at a place what should lie there. What was taken down leaves first. Then comes
 * whatever nobody is led to yet, then pages that change, and the entry last; only when it stands, what nothing leads
 * to any more is removed. Stopped anywhere, every page that can be reached is whole. Rules PU1 to PU8.
 */
import { idsIn, isFindData } from './editionOf.js';
import type { Edition, EditionFile, Note, Part, PlacedFile, PutUpPlan, Step } from './types.js';

export interface PutUpInput {
  /** For a place without an entry: one best picture of each rider. Null where the whole goes up at once. */
  readonly first: Edition | null;
  readonly whole: Edition;
  /** What lies there, in the edition's folder. */
  readonly there: readonly PlacedFile[];
  readonly notes: ReadonlyMap<string, Note>;
  /** Public ids that were taken down. */
  readonly withdrawn: ReadonlySet<string>;
}

/** A name by content, as `editionOf` gives it. */
const TAGGED = /\.[0-9a-f]{10}(?:\/|\.[^./]+$)/;
export const UNFINISHED = /(?:^|\/)\.unfinished-[^/]*$/;

export type WithdrawalInput = Pick<PutUpInput, 'there' | 'notes' | 'withdrawn'>;

const isDown = (ids: readonly string[], withdrawn: ReadonlySet<string>): boolean => ids.some((id) => withdrawn.has(id));

/** What leaves before anything else: first the lines that lead to it, then the files themselves. */
export function planWithdrawal({ there, notes, withdrawn }: WithdrawalInput): readonly Part[] {
  if (withdrawn.size === 0) return [];
  const down = there.filter(({ path }) => isDown(idsIn(path), withdrawn)).map(({ path }) => path);
  const leads = there
    .map(({ path }) => path)
    .filter((path) => (path.endsWith('.html') || isFindData(path)) && !down.includes(path))
    .filter((path) => isDown(notes.get(path)?.names ?? [...withdrawn], withdrawn));
  // Lists of finding go by places in them and cannot lose a line: without them the pages do by links.
  const [lists, pages] = [leads.filter(isFindData), leads.filter((path) => !isFindData(path))];
  const parts: readonly Part[] = [
    {
      name: 'links to withdrawn',
      steps: [...removals(lists, 'withdrawn'), ...pages.map((path) => ({ kind: 'clean' as const, path }))],
    },
    { name: 'withdrawn', steps: removals(down, 'withdrawn') },
  ];
  return parts.filter((part) => part.steps.length > 0);
}

export function planPutUp({ first, whole, there, notes, withdrawn }: PutUpInput): PutUpPlan {
  const withdrawal = planWithdrawal({ there, notes, withdrawn });
  const standing = new Map<string, Standing>(there.map((file) => [file.path, standingOf(file, notes)]));
  for (const step of withdrawal.flatMap(({ steps }) => steps)) {
    if (step.kind === 'clean') standing.set(step.path, CHANGED);
    if (step.kind === 'remove') standing.delete(step.path);
  }
  const left = [...standing.keys()];
  const wanted = (edition: Edition): readonly EditionFile[] =>
    edition.files.filter(
      ({ path, names }) => !isDown(idsIn(path), withdrawn) && !(isFindData(path) && isDown(names, withdrawn)),
    );
  const alreadyThere = wanted(whole).filter((file) => isThere(file, standing)).length;
  const hasEntry = wanted(whole).some(({ role, path }) => role === 'entry' && standing.has(path));
  const before = first === null || hasEntry ? [] : puts(wanted(first), standing, FIRST);
  const after = puts(wanted(whole), standing, WHOLE);
  const keep = new Set(wanted(whole).map(({ path }) => path));
  const isOurs = (path: string): boolean => notes.has(path) || idsIn(path).length > 0 || TAGGED.test(path);
  const [unfinished, rest] = [
    left.filter((path) => UNFINISHED.test(path)),
    left.filter((path) => !keep.has(path) && !UNFINISHED.test(path)),
  ];
  const parts: readonly Part[] = [
    ...withdrawal,
    { name: 'unfinished', steps: removals(unfinished, 'unfinished') },
    ...before,
    ...after,
    { name: 'superseded', steps: removals(rest.filter(isOurs), 'superseded') },
  ];
  return {
    parts: parts.filter((part) => part.steps.length > 0),
    standing: alreadyThere,
    strangers: rest.filter((path) => !isOurs(path)),
  };
}

const removals = (paths: readonly string[], why: Extract<Step, { kind: 'remove' }>['why']): readonly Step[] =>
  paths.map((path) => ({ kind: 'remove', path, why }));

/** What is known of a file that lies there; without a tag its content is not known. */
interface Standing {
  readonly tag: string | null;
  readonly bytes: number;
}
const CHANGED: Standing = { tag: null, bytes: -1 };

/** What was noted of it counts while the place says that it is still that file. */
function standingOf(file: PlacedFile, notes: ReadonlyMap<string, Note>): Standing {
  const note = notes.get(file.path);
  const isThat = note !== undefined && file.bytes === note.bytes && file.stamp === note.stamp;
  return { tag: isThat ? note.tag : null, bytes: note !== undefined && !isThat ? CHANGED.bytes : file.bytes };
}

/** Without a note a file named by its content is believed by its length: under that name there can be no other. */
function isThere(file: EditionFile, standing: ReadonlyMap<string, Standing>): boolean {
  const there = standing.get(file.path);
  if (there === undefined) return false;
  return there.tag === null ? file.role === 'byContent' && there.bytes === file.bytes : there.tag === file.tag;
}

type FourNames = readonly [Part['name'], Part['name'], Part['name'], Part['name']];
const FIRST: FourNames = ['first pictures', 'first pages', 'first pages', 'first entry'];
const WHOLE: FourNames = ['pictures', 'new pages', 'changed pages', 'entry'];

/** Notes in `standing` what will lie there then. */
function puts(files: readonly EditionFile[], standing: Map<string, Standing>, names: FourNames): readonly Part[] {
  const due = files
    .filter((file) => !isThere(file, standing))
    .map((file) => ({ kind: 'put' as const, file, isNew: !standing.has(file.path) }));
  for (const { file } of due) standing.set(file.path, file);
  const [shown, entry] = [due.filter(({ file }) => isShown(file)), due.filter(({ file }) => file.role === 'entry')];
  const pages = due.filter(({ file }) => file.role === 'page');
  return [
    { name: names[0], steps: shown },
    { name: names[1], steps: pages.filter(({ isNew }) => isNew) },
    { name: names[2], steps: pages.filter(({ isNew }) => !isNew) },
    { name: names[3], steps: entry },
  ];
}

const isShown = ({ role }: EditionFile): boolean => role === 'byContent' || role === 'kept';

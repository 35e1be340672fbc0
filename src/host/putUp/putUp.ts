/**
 * Puts a made gallery up to a place, or only takes away what was taken down. What lies there is listed, the steps are
 * planned, and each is done, noted and shown; killed anywhere, the next run goes on. Rules in docs/rules/putting-up.md.
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  type EditionFile,
  editionOf,
  firstEditionOf,
  idsIn,
  type Note,
  type Part,
  type PutUpPlan,
  planPutUp,
  planWithdrawal,
  type Step,
  UNFINISHED,
  withoutLines,
} from '../../core/handover/putUp/index.js';
import { allEnded } from '../finish/allEnded.js';
import { madeFiles, tagOf, weigh } from './madeFiles.js';
import { Notes, notesUnder, readNotes } from './notes.js';
import { type Pace, paceOf } from './pace.js';
import { PutUpError, wordsOf } from './putUpError.js';
import { servingOf } from './serving.js';
import { changeStanding, firstPagesOf, notesOf, stillThere } from './standing.js';
import { PATIENCE, type Patience, tryAgain } from './tryAgain.js';
import type { Place } from './types.js';

export interface PutUpProgress {
  readonly part: Part['name'];
  readonly done: number;
  readonly total: number;
  readonly bytesDone: number;
  readonly bytesTotal: number;
  /** Null while nobody can know. */
  readonly secondsLeft: number | null;
  /** Why nothing moves, while it does not. */
  readonly waiting: string | null;
}

export interface PutUpOptions {
  readonly place: Place;
  /** As the person calls the place. */
  readonly name: string;
  readonly meetingFolder: string;
  /** Public ids of what was taken down. */
  readonly withdrawn: ReadonlySet<string>;
  /** Tells this meeting's folder at the place from another one's; nobody can tell from it whose it is. */
  readonly mark: string;
  readonly now: () => Date;
  readonly atOnce?: number;
  readonly patience?: Patience;
  readonly onProgress?: (progress: PutUpProgress) => void;
  readonly signal?: AbortSignal;
}

export interface PutUpReport {
  readonly put: number;
  readonly bytesPut: number;
  readonly removed: number;
  /** Of the removed, those that were taken down. */
  readonly withdrawn: number;
  /** Files that lay there already as they should. */
  readonly standing: number;
  readonly strangers: readonly string[];
  readonly wasStopped: boolean;
}

const AT_ONCE = 6;
/** Lies in the edition's folder at the place. */
const WHOSE = 'whose.txt';

/** Nothing is changed, here or there. */
export async function planFor(edition: string, options: PutUpOptions): Promise<PutUpPlan> {
  const editions = await editionsOf(edition, options);
  const notes = await readNotes(notesOf(options.meetingFolder, options.name));
  return (await planned(edition, editions, notesUnder(edition, notes), options)).plan;
}

type Editions = Awaited<ReturnType<typeof editionsOf>>;

async function planned(
  edition: string,
  editions: Editions,
  notes: ReadonlyMap<string, Note>,
  options: PutUpOptions,
): Promise<{ readonly plan: PutUpPlan; readonly isEmpty: boolean }> {
  const there = await listed(edition, options);
  await refuseAnothers(there, edition, options);
  const files = there.filter(({ path }) => path !== WHOSE);
  return {
    plan: planPutUp({ ...editions, there: files, notes, withdrawn: options.withdrawn }),
    isEmpty: isEmpty(there),
  };
}

export const putUp = (edition: string, options: PutUpOptions): Promise<PutUpReport> =>
  running(options, async (run) => {
    // Whatever is to be put up, and whether anything is: what was taken down leaves now.
    const withdrawn = await withdraw(run);
    const editions = await editionsOf(edition, options);
    const { plan, isEmpty: isNew } = await planned(edition, editions, run.notes.under(edition), options);
    if (isNew) await markPlace(run, edition);
    await run.all(edition, plan.parts);
    const wasStopped = run.wasStopped();
    if (!wasStopped) {
      const { files } = editions.whole;
      const bytes = files.reduce((sum, file) => sum + file.bytes, 0);
      const at = options.now().toISOString();
      await changeStanding(options.meetingFolder, options.name, { edition, at, files: files.length, bytes });
    }
    return { ...run.counts(), withdrawn, standing: plan.standing, strangers: plan.strangers, wasStopped };
  });

async function markPlace({ again, options: { place, mark } }: Run, edition: string): Promise<void> {
  const serving = servingOf({ path: WHOSE, role: 'kept' });
  await again(() => place.put(`${edition}/${WHOSE}`, Buffer.from(mark), serving));
}

/** Only what was taken down leaves, from every edition that was put there. Returns how many files were removed. */
export const withdrawFrom = (options: PutUpOptions): Promise<number> => running(options, withdraw);

/** The gallery's time is over: all that was put there leaves, the entry first. What others put there stays. */
export const takeAway = (options: PutUpOptions): Promise<number> =>
  running(options, async (run) => {
    for (const edition of notedEditions(run.notes)) {
      const there = await listed(edition, options);
      await refuseAnothers(there, edition, options);
      const files = there.filter(({ path }) => path !== WHOSE);
      const nothing = { first: null, whole: { files: [] }, withdrawn: new Set<string>() };
      const plan = planPutUp({ ...nothing, there: files, notes: run.notes.under(edition) });
      const isEntry = (step: Step): boolean => step.kind === 'remove' && step.path === 'index.html';
      const entry = plan.parts.flatMap(({ steps }) => steps.filter(isEntry));
      await run.all(edition, [
        { name: 'superseded', steps: entry },
        ...plan.parts.map(({ name, steps }) => ({ name, steps: steps.filter((step) => !isEntry(step)) })),
      ]);
      if (!run.wasStopped()) await run.again(() => options.place.remove(`${edition}/${WHOSE}`));
    }
    if (!run.wasStopped())
      await changeStanding(options.meetingFolder, options.name, { edition: null, at: null, files: 0, bytes: 0 });
    return run.counts().removed;
  });

const notedEditions = (notes: Notes): ReadonlySet<string> =>
  new Set([...notes.all()].map(({ path }) => path.slice(0, path.indexOf('/'))));

async function withdraw(run: Run): Promise<number> {
  const { options, notes } = run;
  let removed = 0;
  for (const edition of notedEditions(notes)) {
    const own = notes.under(edition);
    const names = [...own.values()].flatMap((note) => [...note.names, ...idsIn(note.path)]);
    if (!names.some((id) => options.withdrawn.has(id))) continue;
    const there = await listed(edition, options);
    const parts = planWithdrawal({ there, notes: own, withdrawn: options.withdrawn });
    await run.all(edition, parts);
    // Noted, but gone from there by another hand.
    const gone = [...own.keys()].filter((path) => !there.some((file) => file.path === path));
    for (const path of gone) await notes.forget(`${edition}/${path}`);
    removed += parts.flatMap(({ steps }) => steps).filter(({ kind }) => kind === 'remove').length;
  }
  return removed;
}

async function editionsOf(edition: string, { meetingFolder, withdrawn }: PutUpOptions) {
  const folder = join(meetingFolder, 'made', 'gallery', edition);
  const made = await madeFiles(folder, withdrawn);
  if (!made.some(({ path }) => path === 'index.html')) {
    const sentence = `Expected a gallery in ${folder}, but there is none. Make it first: tyrewall hand-over.`;
    throw new PutUpError(sentence, folder);
  }
  const pages = await madeFiles(firstPagesOf(meetingFolder, edition), withdrawn);
  return { first: pages.length === 0 ? null : firstEditionOf(pages, made, weigh), whole: editionOf(made, { weigh }) };
}

async function listed(edition: string, { place, patience = PATIENCE, signal, onProgress }: PutUpOptions) {
  const files = await tryAgain(
    () => place.list(edition),
    patience,
    signal,
    (seconds, trouble) => onProgress?.({ ...NOTHING_DONE, waiting: waitingWords(seconds, trouble) }),
  );
  return files.map((file) => ({ ...file, path: file.path.slice(edition.length + 1) }));
}

const NOTHING_DONE = { part: 'pictures', done: 0, total: 0, bytesDone: 0, bytesTotal: 0, secondsLeft: null } as const;
const waitingWords = (seconds: number, trouble: PutUpError): string =>
  `${trouble.message} Trying again in ${Math.ceil(seconds)} s.`;

/** What a killed run left half written is nobody's. */
const isEmpty = (there: readonly { readonly path: string }[]): boolean =>
  there.every(({ path }) => UNFINISHED.test(path));

/** Two meetings in one folder would take away each other's files. */
async function refuseAnothers(there: readonly { readonly path: string }[], edition: string, options: PutUpOptions) {
  if (isEmpty(there)) return;
  const { place, mark, patience = PATIENCE, signal } = options;
  const found = await tryAgain(
    () => place.read(`${edition}/${WHOSE}`),
    patience,
    signal,
    () => {},
  );
  if (found !== null && Buffer.from(found).toString() === mark) return;
  const whose = found === null ? 'files lie there that Tyrewall did not put there' : 'another meeting was put up there';
  const sentence = `Expected the folder ${edition} in ${place.said} to be empty or this meeting's, but ${whose}. Empty it, or choose another edition or place.`;
  throw new PutUpError(sentence, edition);
}

interface Run {
  readonly options: PutUpOptions;
  readonly notes: Notes;
  again<T>(work: () => Promise<T>): Promise<T>;
  all(edition: string, parts: readonly Part[]): Promise<void>;
  counts(): { put: number; bytesPut: number; removed: number };
  wasStopped(): boolean;
}

/** What is pending is noted before the place is spoken to, and how it ended afterwards. */
async function running<T>(options: PutUpOptions, work: (run: Run) => Promise<T>): Promise<T> {
  const { name, meetingFolder, withdrawn, now } = options;
  const notes = await Notes.open(notesOf(meetingFolder, name));
  const notePending = async (): Promise<void> => {
    const paths = await stillThere(meetingFolder, name, withdrawn);
    const pending = paths.length === 0 ? null : { since: now().toISOString(), paths: [...paths] };
    await changeStanding(meetingFolder, name, { pending });
  };
  try {
    await notePending();
    const result = await work(runOf(options, notes));
    await notePending();
    await changeStanding(meetingFolder, name, { failed: null });
    return result;
  } catch (trouble) {
    await notePending();
    await changeStanding(meetingFolder, name, { failed: { at: now().toISOString(), sentence: wordsOf(trouble) } });
    throw trouble;
  } finally {
    await notes.close();
  }
}

function runOf(options: PutUpOptions, notes: Notes): Run {
  const { patience = PATIENCE, signal, onProgress, atOnce = AT_ONCE } = options;
  const counts = { put: 0, bytesPut: 0, removed: 0 };
  const show = (pace: Pace, part: Part['name'], waiting: string | null): void =>
    onProgress?.({ part, ...pace.standing(), waiting });
  const part = async (edition: string, { name, steps }: Part, pace: Pace): Promise<void> => {
    const queue = steps.values();
    let hasFailed = false;
    const work = async (): Promise<void> => {
      for (const step of queue) {
        if (signal?.aborted || hasFailed) return;
        const onWait = (seconds: number, trouble: PutUpError): void => show(pace, name, waitingWords(seconds, trouble));
        try {
          await tryAgain(() => doStep(step, edition, options, notes), patience, signal, onWait);
        } catch (trouble) {
          hasFailed = true;
          throw trouble;
        }
        if (step.kind === 'put') {
          counts.put += 1;
          counts.bytesPut += step.file.bytes;
        }
        if (step.kind === 'remove') counts.removed += 1;
        pace.done(step);
        show(pace, name, null);
      }
    };
    await allEnded(Array.from({ length: atOnce }, work));
  };
  return {
    options,
    notes,
    again: (work) => tryAgain(work, patience, signal, () => {}),
    async all(edition, parts) {
      const pace = paceOf(parts.flatMap(({ steps }) => steps));
      for (const one of parts) if (!signal?.aborted) await part(edition, one, pace);
    },
    counts: () => ({ ...counts }),
    wasStopped: () => signal?.aborted ?? false,
  };
}

async function doStep(step: Step, edition: string, options: PutUpOptions, notes: Notes): Promise<void> {
  const { place, meetingFolder, withdrawn } = options;
  switch (step.kind) {
    case 'put':
      return put(
        step.file,
        await bytesOf(step.file, join(meetingFolder, 'made', 'gallery', edition)),
        edition,
        place,
        notes,
      );
    case 'clean': {
      const found = await place.read(`${edition}/${step.path}`);
      if (found === null) return;
      const text = withoutLines(Buffer.from(found).toString(), withdrawn);
      const file = { path: step.path, role: 'page', ...weigh(text), names: idsIn(text) } as const;
      return put(file, Buffer.from(text), edition, place, notes);
    }
    case 'remove': {
      const path = `${edition}/${step.path}`;
      await place.remove(path);
      if (step.why === 'withdrawn' && (await place.read(path)) !== null) {
        const sentence = `Expected ${path} to be gone from ${place.said}, which said that it removed it, but it is still given out. Remove it there by hand.`;
        throw new PutUpError(sentence, path);
      }
      return notes.forget(path);
    }
  }
}

type Putting = Pick<EditionFile, 'path' | 'role' | 'tag' | 'names'>;

async function put(file: Putting, bytes: Uint8Array, edition: string, place: Place, notes: Notes): Promise<void> {
  const path = `${edition}/${file.path}`;
  await notes.forget(path);
  const placed = await place.put(path, bytes, servingOf(file));
  const note: Note = { ...placed, path, tag: file.tag, names: file.names };
  await notes.add(note);
}

/** A picture that changed since the plan was made would go up under the name of the other one. */
async function bytesOf({ from, tag }: EditionFile, folder: string): Promise<Uint8Array> {
  if (from.kind === 'text') return Buffer.from(from.text);
  const bytes = await readFile(join(folder, from.path));
  if (tagOf(bytes) === tag) return bytes;
  const sentence = `Expected ${from.path} in ${folder} to stay as it is while it is put up, but it changed. Wait until the gallery is made, and put up again.`;
  throw new PutUpError(sentence, from.path);
}

/** `tyrewall put-up` and `tyrewall place`. */
import {
  costOf,
  costOfPlan,
  type Line,
  type PutUpPlan,
  SLOW_LINE,
  untilFirstEntry,
} from '../core/handover/putUp/index.js';
import { meetingSecret, publicIdsOf } from '../host/gallery/index.js';
import { defaultStateRoot, stateRootOf } from '../host/meeting/stateFolder.js';
import {
  forgetPlace,
  hostKeyOf,
  keepPlace,
  knownPlaces,
  openPlace,
  PutUpError,
  type PutUpOptions,
  type PutUpProgress,
  type PutUpReport,
  type PutUpStanding,
  placeIn,
  planFor,
  putUp,
  withdrawnIds,
} from '../host/putUp/index.js';
import { CliError } from './cliError.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { type PlaceWish, placeAddress } from './placeAddress.js';
import { createProgressBoard, type ProgressBoard } from './progress.js';
import { bytesInWords, counted, onOneLine, secondsInWords } from './words.js';

export interface PutUpWish {
  readonly to?: string;
  readonly dryRun?: boolean;
  /** Mbit/s, as typed. */
  readonly rate?: string;
  readonly stateRoot?: string;
}

type Say = (line: string) => void;

export async function putUpCommand(folder: string, wish: PutUpWish, say: Say = console.log): Promise<void> {
  const line = lineAt(wish.rate);
  const open = { ...(wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot }) };
  const whole = await openWholeDay(folder, { ...open, isForLooking: wish.dryRun ?? false });
  const stop = new AbortController();
  const onInterrupt = (): void => stop.abort();
  process.once('SIGINT', onInterrupt);
  const board = createProgressBoard();
  try {
    const { meeting } = whole;
    const name = wish.to ?? onlyOne([...(await knownPlaces(stateRootOf(meeting.stateFolder))).keys()]);
    const onProgress = (progress: PutUpProgress): void => board.show(standingOf(name, progress));
    await withPlace(whole, name, { onProgress, signal: stop.signal }, (options) =>
      work(meeting.about.firstDay, options, wish.dryRun ?? false, line, board, say),
    );
  } finally {
    process.removeListener('SIGINT', onInterrupt);
    board.close();
    await whole.close();
  }
}

/** A place is open for as long as the work with it lasts. */
export async function withPlace<T>(
  { meeting, day }: Pick<WholeDay, 'meeting' | 'day'>,
  name: string,
  more: Pick<PutUpOptions, 'onProgress' | 'signal'>,
  work: (options: PutUpOptions) => Promise<T>,
): Promise<T> {
  const place = await openPlace(placeIn(await knownPlaces(stateRootOf(meeting.stateFolder)), name));
  try {
    const idOf = publicIdsOf(await meetingSecret(meeting.folder));
    return await work({
      place,
      name,
      meetingFolder: meeting.folder,
      withdrawn: withdrawnIds(await day.settled(), idOf),
      mark: idOf('meeting', meeting.about.id),
      now: () => new Date(),
      ...more,
    });
  } finally {
    await place.close();
  }
}

async function work(
  edition: string,
  options: PutUpOptions,
  isDryRun: boolean,
  line: Line,
  board: ProgressBoard,
  say: Say,
): Promise<void> {
  if (isDryRun) {
    for (const one of planLines(await planFor(edition, options), line)) say(one);
    return;
  }
  const done = await putUp(edition, options);
  board.close();
  for (const one of doneLines(done, edition, options.place.said)) say(one);
}

export function doneLines(done: PutUpReport, edition: string, said: string): readonly string[] {
  const where = `${said}, folder ${edition}`;
  const removed = done.removed === 0 ? '' : `, ${counted(done.removed, 'file')} removed`;
  const what = `${counted(done.put, 'file')} put up (${bytesInWords(done.bytesPut)})${removed}; ${done.standing} lay there already.`;
  return [
    done.wasStopped ? `Stopped: ${what} Said again, it goes on.` : `The gallery stands in ${where}: ${what}`,
    ...(done.strangers.length > 0 ? [strangersLine(done.strangers)] : []),
  ];
}

function onlyOne(names: readonly string[]): string {
  if (names.length === 1) return names[0]!;
  const known = names.length === 0 ? 'none is known yet: say tyrewall place add' : `known are ${names.join(', ')}`;
  throw new CliError(`Expected the name of a place after --to but none was said, and ${known}.`);
}

function lineAt(rate: string | undefined): Line {
  if (rate === undefined) return SLOW_LINE;
  const megabits = Number(rate);
  if (megabits > 0 && megabits <= 10_000) return { ...SLOW_LINE, bitsPerSecond: megabits * 1e6 };
  throw new CliError(`Expected megabits a second after --rate but got ${onOneLine(rate)}. Say for instance 2.`);
}

const MOST_SHOWN = 8;

/** What would be done, part by part in order, with what it costs. */
export function planLines(plan: PutUpPlan, line: Line): readonly string[] {
  if (plan.parts.length === 0)
    return [`Nothing is to be done: ${counted(plan.standing, 'file')} lie there as they should.`];
  const rate = `${line.bitsPerSecond / 1e6} Mbit/s`;
  const lines = plan.parts.flatMap(({ name, steps }) => {
    const cost = costOf(steps, line);
    const bytes = cost.bytes === 0 ? '' : `, ${bytesInWords(cost.bytes)}`;
    const shown = steps.slice(0, MOST_SHOWN).map((step) => {
      if (step.kind === 'put') return `  ${step.isNew ? 'put    ' : 'replace'} ${step.file.path}`;
      return `  ${step.kind === 'clean' ? 'clean  ' : 'remove '} ${step.path}`;
    });
    const more = steps.length > MOST_SHOWN ? [`  and ${steps.length - MOST_SHOWN} more`] : [];
    return [
      `${name}: ${counted(steps.length, 'file')}${bytes}, about ${secondsInWords(cost.seconds)}`,
      ...shown,
      ...more,
    ];
  });
  const [first, all] = [untilFirstEntry(plan, line), costOfPlan(plan, line)];
  const entry = first === null ? '' : ` Riders find a gallery after about ${secondsInWords(first.seconds)}.`;
  const sum = `In all ${bytesInWords(all.bytes)}, about ${secondsInWords(all.seconds)} at ${rate}; ${counted(plan.standing, 'file')} lie there already.${entry}`;
  return [...lines, sum, ...(plan.strangers.length === 0 ? [] : [strangersLine(plan.strangers)])];
}

const strangersLine = (paths: readonly string[]): string =>
  `${counted(paths.length, 'file')} there not put up by Tyrewall, left as they are: ${paths.slice(0, MOST_SHOWN).map(onOneLine).join(', ')}`;

function standingOf(name: string, { part, done, total, secondsLeft, bytesDone, waiting }: PutUpProgress) {
  const left = secondsLeft === null ? '' : `, ${secondsInWords(secondsLeft)} left`;
  const words = waiting ?? `${part}, ${done} of ${counted(total, 'file')}, ${bytesInWords(bytesDone)}${left}`;
  return { name, done, total, words, hasEnded: done === total && total > 0 };
}

/** For `tyrewall show`: where the gallery stands, and what is still there although it was taken down. */
export const standingLines = (standings: readonly PutUpStanding[]): readonly string[] =>
  standings.flatMap(({ place, edition, at, files, pending, failed }) => {
    const since = (iso: string): string => iso.slice(0, 16).replace('T', ' ');
    const stands =
      at === null ? 'no whole gallery yet' : `${edition} since ${since(at)} UTC, ${counted(files, 'file')}`;
    const why = failed === null ? '' : ` The last run ended so: ${failed.sentence}`;
    return [
      `Put up to ${place}: ${stands}.${pending === null ? why : ''}`,
      ...(pending === null
        ? []
        : [
            `Taken down and still at ${place}: ${counted(pending.paths.length, 'file')}.${why} Say tyrewall put-up with --to ${place}: they leave first.`,
          ]),
    ];
  });

export async function placeAddCommand(
  name: string,
  typed: string,
  wish: PlaceWish,
  say: Say = console.log,
  stateRoot: string = defaultStateRoot(),
): Promise<void> {
  const address = await placeAddress(typed, wish, hostKeyOf);
  const place = await openPlace(address);
  try {
    await place.list('tyrewall-looks-whether-it-may');
    await keepPlace(stateRoot, name, address);
    say(`${name} is ${place.said}. Put a meeting's gallery there with: tyrewall put-up MEETING --to ${name}`);
  } catch (trouble) {
    if (!(trouble instanceof PutUpError) || !trouble.isPassing) throw trouble;
    await keepPlace(stateRoot, name, address);
    say(`${name} is kept, but it could not be reached now. ${trouble.message}`);
  } finally {
    await place.close();
  }
}

export async function placesCommand(say: Say = console.log, stateRoot: string = defaultStateRoot()): Promise<void> {
  const places = await knownPlaces(stateRoot);
  if (places.size === 0) say('No place is known yet. Say tyrewall place add NAME and a folder, sftp://… or s3://…');
  for (const [name, address] of places) {
    const place = await openPlace(address);
    say(
      `${name}: ${place.said}${address.folder === '' || address.kind === 'folder' ? '' : `, folder ${address.folder}`}`,
    );
    await place.close();
  }
}

export async function placeForgetCommand(name: string, stateRoot: string = defaultStateRoot()): Promise<void> {
  await forgetPlace(stateRoot, name);
}

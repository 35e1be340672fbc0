/** `tyrewall organiser <meeting>`: look at what would go, change it by a word, hand it over; later, finals of what they chose themselves. */
import { readFile } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { namesOf } from '../core/finish/index.js';
import { mayBeNamed } from '../core/handover/index.js';
import {
  namedPictures,
  type OrganiserSet,
  readChoice,
  type SetPicture,
  type SetWish,
} from '../core/handover/organiser/index.js';
import type { FrameId, PersonId } from '../core/ids.js';
import { plain } from '../core/plan/timetable/index.js';
import { epochMsOf } from '../core/units.js';
import { rememberingChooseInput } from '../host/day/chooseInput.js';
import { entriesOf, spotsOf } from '../host/day/derive.js';
import type { DayState } from '../host/day/types.js';
import { wallAt } from '../host/day/wallNow.js';
import { amendAbout } from '../host/meeting/index.js';
import { candidatesInput, handToOrganiser, organiserDue, organiserSet, readHanded } from '../host/organiser/index.js';
import { readTable } from '../host/plan/tables/readTable.js';
import { hashPassword, isLongEnough } from '../shop/service/adminKeys.js';
import { CliError } from './cliError.js';
import { publishingOf } from './handOver.js';
import { refuseQuietSuccess, showing } from './handOverCommands.js';
import { wholeNumber } from './numbers.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { type AgreedTyped, agreedSaid, picturesOf } from './organiserWords.js';
import type { MeetingWish } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

export interface OrganiserWish extends MeetingWish, AgreedTyped {
  /** This time; `agreedPictures` stays said. */
  readonly pictures?: string;
  readonly class?: readonly string[];
  readonly only?: string;
  readonly with?: readonly string[];
  readonly without?: readonly string[];
  /** A file with the organiser's own choice. */
  readonly choice?: string;
  readonly names?: boolean;
  readonly edge?: string;
  readonly out?: string;
  readonly passwordFile?: string;
}

type Say = (line: string) => void;

export async function organiserCommand(folder: string, wish: OrganiserWish, say: Say = console.log): Promise<void> {
  const edge = wish.edge === undefined ? undefined : edgeOf(wish.edge);
  const passwordHash = wish.passwordFile === undefined ? undefined : await passwordIn(wish.passwordFile);
  if (passwordHash !== undefined && wish.out === undefined)
    throw new CliError('Expected --out beside --password-file: the password is for what is handed over. Say both.');
  const { stateRoot } = wish;
  const isSaid = [wish.for, wish.agreedPictures, wish.due, wish.boards, wish.sponsors, wish.until, wish.commission];
  const isForLooking = wish.out === undefined && isSaid.every((word) => word === undefined);
  const whole = await openWholeDay(folder, { isForLooking, ...(stateRoot === undefined ? {} : { stateRoot }) });
  try {
    const state = await stateWith(whole, wish);
    const handed = await readHanded(whole.meeting.folder);
    const due = organiserDue(state, handed, wallAt(state.about.zone, Date.now()));
    if (due !== null) say(due.sentence);
    const known: Known = { state, whole, say, handed };
    const { pictures, lacks } =
      wish.choice === undefined ? proposedSet(known, wish) : await chosenSet(known, wish.choice);
    for (const line of setLines(pictures, state)) say(line);
    for (const lack of lacks) say(`! ${onOneLine(lack)}`);
    if (wish.out === undefined) {
      if (pictures.length > 0) say('Say --with or --without to change it, and --out with a folder to hand it over.');
      return;
    }
    await handOver(known, pictures, {
      ...wish,
      out: wish.out,
      ...(edge === undefined ? {} : { longEdgePx: edge }),
      ...(passwordHash === undefined ? {} : { passwordHash }),
    });
  } finally {
    await whole.close();
  }
}

interface Known {
  readonly state: DayState;
  readonly whole: WholeDay;
  readonly say: Say;
  readonly handed: Awaited<ReturnType<typeof readHanded>>;
}

/** What was agreed is the meeting's from then on. */
async function stateWith({ day, meeting }: WholeDay, wish: OrganiserWish): Promise<DayState> {
  const state = await day.settled();
  const { about, log } = state;
  const said = agreedSaid(wish, { lastDay: about.lastDay, spots: spotsOf(log, about.spots) });
  if (said === null) return state;
  // One of the two ways to say when it is due takes the other's place.
  const { due: _, dueMinutesAfterFlag: __, ...rest } = about.organiser ?? {};
  const organiser = wish.due === undefined ? { ...about.organiser, ...said } : { ...rest, ...said };
  await amendAbout(meeting.folder, { organiser });
  return { ...state, about: { ...about, organiser } };
}

function proposedSet({ state, say }: Known, wish: OrganiserWish): OrganiserSet {
  const choosing = rememberingChooseInput()(state);
  const asked: Partial<SetWish> = {
    ...(wish.pictures === undefined ? {} : { pictures: picturesOf(wish.pictures) }),
    ...(wish.class === undefined ? {} : { groups: wish.class.map((word) => groupOf(word, state)) }),
    ...(wish.only === undefined ? {} : { only: onlyOf(wish.only) }),
  };
  const proposed = organiserSet(state, choosing, asked);
  const framesOf = (words: readonly string[] = []): readonly FrameId[] => {
    const sheet = {
      at: 0,
      wall: 0,
      is: 'set',
      pictures: proposed.pictures.map(({ number, frameId }) => ({ number, frameId, file: '' })),
    };
    const { frames, left } = readChoice(words, { ...namesIn(state), sheet: sheet as never });
    for (const sentence of left) say(`! ${onOneLine(sentence)}`);
    return frames;
  };
  const withFrames = framesOf(wish.with);
  const withoutFrames = framesOf(wish.without);
  if (withFrames.length + withoutFrames.length === 0) return proposed;
  return organiserSet(state, choosing, { ...asked, withFrames, withoutFrames });
}

const namesIn = ({ arrangement }: DayState) => ({
  exposures: arrangement.exposures,
  names: namesOf(arrangement.exposures),
});

async function chosenSet(
  { state, handed }: Known,
  path: string,
): Promise<{ readonly pictures: readonly SetPicture[]; readonly lacks: readonly string[] }> {
  const { rows } = await readTable(basename(path), await bytesOf(path));
  const cells = rows.flatMap((row) => row.cells);
  const { frames, left } = readChoice(cells, { ...namesIn(state), sheet: handed.at(-1) ?? null });
  const named = namedPictures(frames, candidatesInput(state, rememberingChooseInput()(state)));
  const down = named.left.map(() => 'One of them was taken down or is held back, so it is not handed over.');
  return { pictures: named.pictures, lacks: [...left, ...down] };
}

const bytesOf = (path: string): Promise<Buffer> =>
  readFile(path).catch((cause: Error) => {
    throw new CliError(`Expected the organiser's list in ${path} but it could not be read: ${cause.message}.`, {
      cause,
    });
  });

function setLines(pictures: readonly SetPicture[], state: DayState): readonly string[] {
  const names = namesOf(state.arrangement.exposures);
  return pictures.map(({ number, frameId, source, reasons }) => {
    const mark = source === 'said' ? '!' : ' ';
    return `${String(number).padStart(3)}${mark} ${names.get(frameId)}  ${reasons.slice(0, 3).join('; ')}`;
  });
}

interface HandingWish extends OrganiserWish {
  readonly out: string;
  readonly longEdgePx?: number;
  readonly passwordHash?: string;
}

async function handOver(
  { state, whole, say }: Known,
  pictures: readonly SetPicture[],
  wish: HandingWish,
): Promise<void> {
  if (wish.out.trim() === '') throw new CliError('Expected a folder after --out but its name is empty. Name one.');
  const { day, meeting } = whole;
  const now = epochMsOf(Date.now());
  const { contact } = publishingOf(meeting);
  const report = await showing('finals', (progress) =>
    handToOrganiser(state, pictures, {
      is: wish.choice === undefined ? 'set' : 'choice',
      out: resolve(wish.out),
      meetingFolder: meeting.folder,
      originalOf: (frame) => day.original(frame),
      onProgress: progress,
      nameOf: namesWith(state, whole, wish.names === true),
      now: { at: now, wall: wallAt(state.about.zone, now) },
      ...(wish.longEdgePx === undefined ? {} : { longEdgePx: wish.longEdgePx }),
      ...(contact === undefined ? {} : { contact }),
      ...(wish.passwordHash === undefined ? {} : { passwordHash: wish.passwordHash }),
    }),
  );
  for (const sentence of report.failed) say(`! ${onOneLine(sentence)}`);
  say(
    report.pictures === 0
      ? 'Nothing to hand over: no rider has a keeper yet.'
      : `${counted(report.pictures, 'picture')} in ${report.folder}, ${report.made} of them new, with contact sheet, captions and terms.`,
  );
  refuseQuietSuccess(report.failed.length);
}

/** Only where it was asked, and never of whom is not of age. */
function namesWith({ arrangement, log, timetable }: DayState, { meeting }: WholeDay, isAsked: boolean) {
  const may = mayBeNamed(arrangement, log, isAsked);
  const entries = entriesOf(log) ?? [];
  return (group: string | null, number: string): string | null => {
    const named = timetable?.groups.find(({ key }) => key === group)?.name ?? group ?? '';
    const own = entries.filter((entry) => plain(entry.number) === plain(number));
    const inClass = own.filter(
      (entry) => plain(entry.class) === plain(named) || plain(entry.class) === plain(group ?? ''),
    );
    const [entry, ...more] = inClass.length > 0 ? inClass : own;
    if (entry?.person === undefined || more.length > 0 || !may.person(entry.person as PersonId)) return null;
    return meeting.people.get(entry.person as PersonId)?.name ?? null;
  };
}

function groupOf(text: string, { timetable }: DayState): string {
  const groups = timetable?.groups ?? [];
  const found = groups.find(({ key, name }) => plain(key) === plain(text) || plain(name) === plain(text));
  if (found) return found.key;
  const names = groups.map(({ name }) => name).join(', ');
  throw new CliError(`Expected a group of the timetable (${names || 'there is none'}) but got ${onOneLine(text)}.`);
}

function onlyOf(text: string): SetWish['only'] {
  if (text === 'podium' || text === 'boards') return text;
  throw new CliError(`Expected podium or boards after --only but got ${onOneLine(text)}.`);
}

function edgeOf(text: string): number {
  const px = wholeNumber(text, 64, 100_000);
  if (px !== null) return px;
  throw new CliError(
    `Expected a long edge of 64 to 100000 pixels after --edge but got ${onOneLine(text)}. Say for instance 3000.`,
  );
}

async function passwordIn(path: string): Promise<string> {
  const text = (await bytesOf(path)).toString('utf8').trim();
  if (isLongEnough(text)) return hashPassword(text);
  throw new CliError(`Expected a password of at least 12 letters in ${path} but it has fewer. Take several words.`);
}

/** `tyrewall organiser <meeting>`: look at what would go, change it by a word, hand it over; later, finals of what they chose themselves. */
import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { mayBeNamed } from '../core/handover/index.js';
import type { SetPicture } from '../core/handover/organiser/index.js';
import type { PersonId } from '../core/ids.js';
import { plain } from '../core/plan/timetable/index.js';
import { epochMsOf } from '../core/units.js';
import { entriesOf, spotsOf } from '../host/day/derive.js';
import type { DayState } from '../host/day/types.js';
import { wallAt } from '../host/day/wallNow.js';
import { rememberLaid } from '../host/law/index.js';
import { amendAbout } from '../host/meeting/index.js';
import { handedButDown, handToOrganiser, organiserDue, readHanded, type ShareWish } from '../host/organiser/index.js';
import { hashPassword, isLongEnough } from '../shop/service/adminKeys.js';
import { CliError } from './cliError.js';
import { publishingOf } from './handOver.js';
import { refuseQuietSuccess, showing } from './handOverCommands.js';
import { wholeNumber } from './numbers.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { bytesOf, chosenSet, type Known, proposedSet, type SetTyped, setLines } from './organiserSets.js';
import { type AgreedTyped, agreedSaid } from './organiserWords.js';
import type { MeetingWish } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

export interface OrganiserWish extends MeetingWish, AgreedTyped, SetTyped {
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
  if (wish.passwordFile !== undefined && wish.out === undefined)
    throw new CliError('Expected --out beside --password-file: the password is for what is handed over. Say both.');
  const share = wish.passwordFile === undefined ? undefined : await shareOf(wish.passwordFile, wish.out!);
  const { stateRoot } = wish;
  const isSaid = [wish.for, wish.agreedPictures, wish.due, wish.boards, wish.sponsors, wish.until, wish.commission];
  const isForLooking = wish.out === undefined && isSaid.every((word) => word === undefined);
  const whole = await openWholeDay(folder, { isForLooking, ...(stateRoot === undefined ? {} : { stateRoot }) });
  try {
    const state = await stateWith(whole, wish);
    const handed = await readHanded(whole.meeting.folder);
    const due = organiserDue(state, handed, wallAt(state.about.zone, Date.now()));
    if (due !== null) say(due.sentence);
    for (const sentence of handedButDown(state, handed)) say(`! ${sentence}`);
    const known: Known = { state, say, handed };
    const { pictures, lacks } =
      wish.choice === undefined ? proposedSet(known, wish) : await chosenSet(known, wish.choice);
    for (const line of setLines(pictures, state)) say(line);
    for (const lack of lacks) say(`! ${onOneLine(lack)}`);
    if (wish.out === undefined) {
      if (pictures.length > 0) say('Say --with or --without to change it, and --out with a folder to hand it over.');
      return;
    }
    await handOver(known, whole, pictures, {
      ...wish,
      out: wish.out,
      ...(edge === undefined ? {} : { longEdgePx: edge }),
      ...(share === undefined ? {} : { share }),
    });
  } finally {
    await whole.close();
  }
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

interface HandingWish extends OrganiserWish {
  readonly out: string;
  readonly longEdgePx?: number;
  readonly share?: ShareWish;
}

async function handOver(
  { state, say }: Known,
  whole: WholeDay,
  pictures: readonly SetPicture[],
  wish: HandingWish,
): Promise<void> {
  if (wish.out.trim() === '') throw new CliError('Expected a folder after --out but its name is empty. Name one.');
  const { day, meeting } = whole;
  const now = epochMsOf(Date.now());
  const { contact } = publishingOf(meeting);
  await rememberLaid(meeting.stateFolder, 'organiser', wish.out);
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
      ...(wish.share === undefined ? {} : { share: wish.share }),
    }),
  );
  for (const sentence of report.failed) say(`! ${onOneLine(sentence)}`);
  say(
    report.pictures === 0
      ? 'Nothing to hand over: no rider has a keeper yet.'
      : `${counted(report.pictures, 'picture')} in ${report.folder}, ${report.made} of them new, with contact sheet, captions and terms.`,
  );
  if (wish.share !== undefined && report.pictures > 0)
    say(
      `Lay that folder as shares/${wish.share.id} in the order service's own; the page is then at /for/${wish.share.id} there.`,
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

function edgeOf(text: string): number {
  const px = wholeNumber(text, 64, 100_000);
  if (px !== null) return px;
  throw new CliError(
    `Expected a long edge of 64 to 100000 pixels after --edge but got ${onOneLine(text)}. Say for instance 3000.`,
  );
}

/** Laid again, the page keeps its address; the password is the new one. */
async function shareOf(passwordFile: string, out: string): Promise<ShareWish> {
  const password = (await bytesOf(passwordFile)).toString('utf8').trim();
  if (!isLongEnough(password))
    throw new CliError(
      `Expected a password of at least 12 letters in ${passwordFile} but it has fewer. Take several words.`,
    );
  const before = await readFile(join(out, 'share.json'), 'utf8').catch(() => '');
  const id = /"id": "([0-9a-f]{32})"/.exec(before)?.[1] ?? randomBytes(16).toString('hex');
  return { id, passwordHash: await hashPassword(password), expiresAt: null };
}

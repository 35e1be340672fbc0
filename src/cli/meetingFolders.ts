/**
 * Which meeting a card belongs to, and where it lies on each disk. A disk given to `--to` may be a meeting folder itself or
 * a place that holds meetings; on every disk the meeting lies under the same folder name.
 */
import { access, constants, cp, mkdir, readdir, readFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { meaningOf } from '../host/bringin/index.js';
import { takeKeptMark } from '../host/finish/marks/index.js';
import { createMeeting, type MeetingAbout } from '../host/meeting/index.js';
import { defaultStateRoot } from '../host/meeting/stateFolder.js';
import { CliError } from './cliError.js';
import type { Days } from './dayOfCards.js';
import { onOneLine } from './words.js';

/** Its days are said, or guessed from the cards. */
export interface MeetingWish extends Days {
  /** What the person calls it, with `--name`. */
  readonly name?: string;
  /** IANA zone; else the machine's. */
  readonly zone?: string;
  /** A day that a person said is never passed over; a guessed one may be. */
  readonly isDaySaid: boolean;
}

/** What the person is told on the way. */
export interface Voice {
  /** A disk is left out. */
  refuse(sentence: string): void;
  /** The cards go where the person may not expect them. */
  say(sentence: string): void;
}

interface Found {
  readonly folder: string;
  readonly about: Pick<MeetingAbout, 'id' | 'name' | 'firstDay' | 'lastDay'>;
}

/**
 * The same meeting's folder on each disk, in the order given; made where it is missing. A later disk that cannot take it is
 * left out, with a sentence; without the first there is no meeting.
 */
export async function meetingOnDisks(
  disks: readonly [string, ...string[]],
  wish: MeetingWish,
  voice: Voice,
): Promise<readonly string[]> {
  const [first, ...more] = disks;
  refuseBlank(wish.name);
  const chosen = chooseMeeting(await meetingsAt(first), wish, first, voice);
  const folder = chosen?.folder ?? (await makeMeeting(first, wish));
  const others: string[] = [];
  for (const disk of more) {
    try {
      const other = await sameMeetingOn(disk, folder);
      if ([folder, ...others].includes(other)) throw samePlaceError(disk);
      others.push(other);
    } catch (error) {
      if (!(error instanceof CliError)) throw error;
      voice.refuse(error.message);
    }
  }
  return [folder, ...others];
}

function refuseBlank(name: string | undefined): void {
  if (name === undefined || name.trim() !== '') return;
  throw new CliError(
    `Expected what the meeting is called after --name but got ${JSON.stringify(name)}. Say for instance --name Ebbstone, or leave --name out.`,
  );
}

const samePlaceError = (disk: string): CliError =>
  new CliError(`Expected a second place for the copy but ${disk} is where the first one lies. Give --to another disk.`);

/** Said before anything is made below it: Node tells of a read-only disk as of a missing folder. */
async function makeSureOfWriting(disk: string): Promise<void> {
  try {
    await access(await nearestFolder(resolve(disk)), constants.W_OK);
  } catch (cause) {
    throw new CliError(`Expected to write to ${disk} but ${meaningOf(cause)}. Unlock the disk or give another.`);
  }
}

async function nearestFolder(path: string): Promise<string> {
  const isThere = await access(path).then(
    () => true,
    () => false,
  );
  return isThere || dirname(path) === path ? path : nearestFolder(dirname(path));
}

function chooseMeeting(found: readonly Found[], wish: MeetingWish, disk: string, voice: Voice): Found | null {
  const only = found.length === 1 ? found[0] : undefined;
  if (only !== undefined && resolve(only.folder) === resolve(disk)) return givenItself(only, wish, voice);
  const named = found.filter(({ about }) => wish.name === undefined || about.name === wish.name);
  const fitting = named.filter(({ about }) => holdsDays(about, wish));
  if (fitting.length > 0 || wish.name === undefined || wish.isDaySaid) return theOne(fitting, wish, disk);
  const other = theOne(named, wish, disk);
  if (other !== null)
    voice.say(
      `The cards go into ${inWords(other)}, which is there already, though their day was guessed to be ${wish.firstDay}. Say --day ${wish.firstDay} for a meeting of its own.`,
    );
  return other;
}

const holdsDays = (about: Days, wish: Days): boolean =>
  about.firstDay <= wish.firstDay && wish.lastDay <= about.lastDay;

/** A folder that was pointed at is meant, whatever else was said; but that it was not followed is said too. */
function givenItself(found: Found, wish: MeetingWish, voice: Voice): Found {
  const unlike = [
    wish.name !== undefined && wish.name !== found.about.name ? `--name ${onOneLine(wish.name)}` : null,
    wish.isDaySaid && !holdsDays(found.about, wish) ? `--day ${daysInWords(wish, '/')}` : null,
  ].filter((one) => one !== null);
  if (unlike.length > 0)
    voice.say(
      `${found.folder} is the meeting ${inWords(found)}, and the cards go into it, though you said ${unlike.join(' and ')}. For another meeting give --to the folder that holds this one.`,
    );
  return found;
}

const daysInWords = ({ firstDay, lastDay }: Days, between: string): string =>
  firstDay === lastDay ? firstDay : `${firstDay}${between}${lastDay}`;

function theOne(fitting: readonly Found[], wish: MeetingWish, disk: string): Found | null {
  if (fitting.length > 1)
    throw new CliError(
      `Expected one meeting ${wish.name === undefined ? '' : `called ${onOneLine(wish.name)} `}on ${daysInWords(wish, ' to ')} in ${disk} but found ${fitting.length}: ${fitting.map(inWords).join(', ')}. Give its folder to --to, or say its --name and --day.`,
    );
  return fitting[0] ?? null;
}

const inWords = ({ about }: Found): string => `${onOneLine(about.name)} of ${daysInWords(about, ' to ')}`;

/** The meeting at a folder, or those lying directly in it. */
async function meetingsAt(place: string): Promise<readonly Found[]> {
  const own = await aboutAt(place);
  if (own !== null) return [{ folder: resolve(place), about: own }];
  const names = await readdir(place, { withFileTypes: true }).catch((cause: unknown) => {
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw new CliError(
      `Expected to look into ${place} but could not: ${meaningOf(cause)}. Check that the disk is connected.`,
    );
  });
  const looked = await Promise.all(
    names
      .filter((entry) => entry.isDirectory())
      .map(async (entry) => ({ folder: resolve(place, entry.name), about: await aboutAt(join(place, entry.name)) })),
  );
  return looked.flatMap(({ folder, about }) => (about === null ? [] : [{ folder, about }]));
}

async function aboutAt(folder: string): Promise<Found['about'] | null> {
  try {
    return JSON.parse(await readFile(join(folder, 'meeting.json'), 'utf8')) as MeetingAbout;
  } catch {
    return null;
  }
}

async function makeMeeting(disk: string, wish: MeetingWish): Promise<string> {
  const { firstDay, lastDay } = wish;
  const name = wish.name ?? `Meeting of ${daysInWords(wish, ' to ')}`;
  const folder = resolve(disk, folderNameOf(name, firstDay));
  await makeSureOfWriting(disk);
  await createMeeting(folder, {
    name,
    firstDay,
    lastDay,
    zone: wish.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    spots: [],
  });
  await takeKeptMark(folder, defaultStateRoot());
  return folder;
}

/** Safe on any file system: no separators, control characters or trailing dots. */
const folderNameOf = (name: string, day: string): string =>
  `${day} ${name}`.replace(/[\p{Cc}<>:"/\\|?*]/gu, '_').replace(/[. ]+$/, '');

async function sameMeetingOn(disk: string, original: string): Promise<string> {
  const about = await aboutAt(original);
  const here = (await meetingsAt(disk)).find((one) => one.about.id === about?.id);
  if (here !== undefined) return here.folder;
  const folder = resolve(disk, basename(original));
  if (dirname(folder) === dirname(resolve(original))) throw samePlaceError(disk);
  await makeSureOfWriting(disk);
  await access(folder).then(
    () => {
      throw new CliError(
        `Expected to put the second copy in ${folder} but another folder of that name is there. Move it away, or give --to another place.`,
      );
    },
    () => undefined,
  );
  await mkdir(join(folder, 'cards'), { recursive: true });
  await cp(join(original, 'meeting.json'), join(folder, 'meeting.json'));
  return folder;
}

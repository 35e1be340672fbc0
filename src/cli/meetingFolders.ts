/**
 * Which meeting a card belongs to, and where it lies on each disk. A disk given to `--to` may be a meeting folder itself or
 * a place that holds meetings; on every disk the meeting lies under the same folder name.
 */
import { access, constants, cp, mkdir, readdir, readFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { meaningOf } from '../host/bringin/index.js';
import { createMeeting, type MeetingAbout } from '../host/meeting/index.js';
import { CliError } from './cliError.js';

export interface MeetingWish {
  /** What the person calls it, with `--name`. */
  readonly name?: string;
  /** IANA zone; else the machine's. */
  readonly zone?: string;
  /** `YYYY-MM-DD`, said or guessed from the cards. */
  readonly day: string;
}

interface Found {
  readonly folder: string;
  readonly about: Pick<MeetingAbout, 'id' | 'name' | 'firstDay' | 'lastDay'>;
}

/**
 * The same meeting's folder on each disk, in the order given; made where it is missing. A later disk that cannot take it is
 * left out, with a sentence to `refuse`; without the first there is no meeting.
 */
export async function meetingOnDisks(
  disks: readonly string[],
  wish: MeetingWish,
  refuse: (sentence: string) => void,
): Promise<readonly string[]> {
  const first = disks[0];
  if (first === undefined)
    throw new CliError(
      'Expected where to copy to, but no --to was given. Say --to DISK, and --to SECOND_DISK for the second copy.',
    );
  const found = (await meetingsAt(first)) ?? [];
  const chosen = chooseMeeting(found, wish, first);
  const folder = chosen?.folder ?? (await makeMeeting(first, wish));
  const others: string[] = [];
  for (const disk of disks.slice(1)) {
    try {
      const other = await sameMeetingOn(disk, folder);
      if ([folder, ...others].includes(other)) throw samePlaceError(disk);
      others.push(other);
    } catch (error) {
      if (!(error instanceof CliError)) throw error;
      refuse(error.message);
    }
  }
  return [folder, ...others];
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

function chooseMeeting(found: readonly Found[], wish: MeetingWish, disk: string): Found | null {
  const isOurs = ({ about }: Found) =>
    wish.name === undefined ? about.firstDay <= wish.day && wish.day <= about.lastDay : about.name === wish.name;
  const only = found.length === 1 ? found[0] : undefined;
  if (only !== undefined && resolve(only.folder) === resolve(disk)) return only;
  const ours = found.filter(isOurs);
  if (ours.length > 1)
    throw new CliError(
      `Expected one meeting on ${wish.day} in ${disk} but found ${ours.length}: ${ours.map((one) => one.about.name).join(', ')}. Give its folder to --to, or its name to --name.`,
    );
  return ours[0] ?? null;
}

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
  const name = wish.name ?? `Meeting of ${wish.day}`;
  const folder = resolve(disk, folderNameOf(name, wish.day));
  await makeSureOfWriting(disk);
  await createMeeting(folder, {
    name,
    firstDay: wish.day,
    lastDay: wish.day,
    zone: wish.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    spots: [],
  });
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

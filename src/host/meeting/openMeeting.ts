/** Making and opening a meeting folder. */
import { access, constants, mkdir, readdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { v4 as uuidv4 } from 'uuid';
import type { Fill } from '../../core/bringin/types.js';
import type { MeetingId } from '../../core/ids.js';
import { readFills as readFillsOfFolder } from '../bringin/index.js';
import { openLogbook, openMeasuredStore } from '../logbook/index.js';
import { checkedAbout, FOLDER_FORMAT, readAbout, writeAbout } from './about.js';
import { MeetingError } from './meetingError.js';
import { openMeetingIndex } from './meetingIndex.js';
import { type Owner, type Ownership, ownerIn, takeOwnership } from './ownership.js';
import { openPeople, type People } from './people.js';
import { type BroughtTogether, bringTogether } from './sideBySide.js';
import { defaultStateRoot, stateFolderOf } from './stateFolder.js';
import type { Meeting, MeetingAbout } from './types.js';

/** A meeting as {@link openMeeting} gives it: what other makers of a `Meeting` may leave out is there. */
export interface OpenMeeting extends Meeting {
  readonly people: People;
  readonly isForLooking: boolean;
  readonly notices: readonly string[];
  announce(address: string | null): Promise<void>;
}

export interface OpenMeetingOptions {
  /** Else {@link defaultStateRoot}. */
  readonly stateRoot?: string;
  /** Nothing is written to the folder and no lock is taken; several may look at once. */
  readonly isForLooking?: boolean;
  /** Reads the manifests under `cards/`; another one for tests. */
  readonly readFills?: (meetingFolder: string) => Promise<readonly Fill[]>;
}

/** Makes the folder with `meeting.json`; refuses one that already holds something else. */
export async function createMeeting(folder: string, about: Omit<MeetingAbout, 'id' | 'format'>): Promise<MeetingAbout> {
  const checked = checkedAbout({ id: uuidv4() as MeetingId, format: FOLDER_FORMAT, ...about }, folder);
  await mkdir(folder, { recursive: true });
  await refuseOccupied(folder);
  for (const part of ['cards', 'log', 'measured', 'people', 'made'])
    await mkdir(join(folder, part), { recursive: true });
  await writeAbout(folder, checked);
  return checked;
}

async function refuseOccupied(folder: string): Promise<void> {
  const names = await readdir(folder);
  if (names.length === 0) return;
  const what = names.includes('meeting.json') ? 'a meeting is there already; open it' : `it holds ${names[0]}`;
  throw new MeetingError(
    `Expected an empty folder for the new meeting at ${folder} but ${what}. Name another folder.`,
    {
      path: folder,
    },
  );
}

/** Opens a meeting for this process. A folder that cannot be written to is opened for looking only, with a notice. */
export async function openMeeting(folder: string, options: OpenMeetingOptions = {}): Promise<OpenMeeting> {
  const root = resolve(folder);
  const about = await readAbout(root);
  const stateFolder = stateFolderOf(options.stateRoot ?? defaultStateRoot(), about.id);
  // The desk's pairing word stands in here, which is no business of other users of this machine.
  await mkdir(join(stateFolder, 'pictures'), { recursive: true, mode: 0o700 });
  const lookingBecause = await whyOnlyLooking(root, options);
  const ownership = lookingBecause === null ? await takeOwnership(stateFolder, root, about.name) : null;
  try {
    return await opened(root, about, stateFolder, ownership, lookingBecause, options);
  } catch (problem) {
    await ownership?.release();
    throw problem;
  }
}

async function whyOnlyLooking(folder: string, options: OpenMeetingOptions): Promise<string | null> {
  if (options.isForLooking) return `The meeting in ${folder} is open for looking only; nothing was written.`;
  try {
    await access(folder, constants.W_OK);
    return null;
  } catch {
    return `The folder ${folder} cannot be written to, so the meeting is open for looking only; nothing was written. Open it from a disk that can be written to.`;
  }
}

async function opened(
  folder: string,
  about: MeetingAbout,
  stateFolder: string,
  ownership: Ownership | null,
  lookingBecause: string | null,
  options: OpenMeetingOptions,
): Promise<OpenMeeting> {
  const readOnly = lookingBecause === null ? {} : { readOnlyBecause: lookingBecause };
  // Who only looks shares the index with nobody: its owner may be writing to it.
  const index = ownership === null ? null : await openMeetingIndex(stateFolder, folder);
  const log = await openLogbook(join(folder, 'log'), readOnly);
  const measured = await openMeasuredStore(join(folder, 'measured'), {
    ...readOnly,
    ...(index === null ? {} : { index }),
  });
  const people = await openPeople(join(folder, 'people'), readOnly);
  const read = () => (options.readFills ?? readFillsOfFolder)(folder);
  const why = lookingBecause === null ? [] : [lookingBecause];
  return {
    folder,
    about,
    log,
    measured,
    people,
    stateFolder,
    isForLooking: lookingBecause !== null,
    notices: [...why, ...log.notices, ...measured.notices, ...people.notices],
    fills: () => (index === null ? read() : index.fills(read)),
    pathOf: (fill, path) => join(folder, 'cards', fill.folder, ...path.split('/')),
    announce: async (address) => ownership?.announce(address),
    async close() {
      await log.close();
      await measured.close();
      index?.close();
      await ownership?.release();
    },
  };
}

/** Who has this meeting open on this machine, whichever copy of it; null when nobody has. The terminal asks the desk then. */
export async function ownerOf(
  folder: string,
  options: Pick<OpenMeetingOptions, 'stateRoot'> = {},
): Promise<Owner | null> {
  const about = await readAbout(folder);
  return ownerIn(stateFolderOf(options.stateRoot ?? defaultStateRoot(), about.id));
}

/** Puts two copies of a meeting side by side, so that both know what either knew; neither may be open. */
export async function mergeMeetings(
  folder: string,
  other: string,
  options: OpenMeetingOptions = {},
): Promise<BroughtTogether> {
  const about = await readAbout(folder);
  const stateFolder = stateFolderOf(options.stateRoot ?? defaultStateRoot(), about.id);
  await mkdir(stateFolder, { recursive: true });
  const ownership = await takeOwnership(stateFolder, resolve(folder), about.name);
  try {
    const here = await bringTogether(other, folder);
    const there = await bringTogether(folder, other).catch((problem: Error) => ({
      changedFiles: 0,
      notices: [`${other} could not be written to (${problem.message}); it does not know yet what this copy knows.`],
    }));
    return {
      changedFiles: here.changedFiles + there.changedFiles,
      notices: [...new Set([...here.notices, ...there.notices])],
    };
  } finally {
    await ownership.release();
  }
}

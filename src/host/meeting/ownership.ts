/**
 * One process owns a meeting on a machine. The lock is a transaction that the database engine holds on a file in the
 * state folder: the system lets go of it when the process ends, however it ends, so a lock never outlives its owner
 * and no two newcomers can both take over. `owner.json` beside it only tells others whom to ask.
 */
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { IndexError, type IndexStore, openLibsqlStore } from '../index/index.js';
import { MeetingError } from './meetingError.js';
import { writeWhole } from './writeWhole.js';

export interface Owner {
  readonly pid: number;
  readonly folder: string;
  /** Of the desk, once it listens. */
  readonly address: string | null;
}

export interface Ownership {
  announce(address: string | null): Promise<void>;
  release(): Promise<void>;
}

/** The address holds the desk's pairing word. */
const FOR_ME = 0o600;

const ownerPath = (stateFolder: string): string => join(stateFolder, 'owner.json');

/** Takes the meeting, which people call `name`, for this process, or throws the sentence that says who has it. */
export async function takeOwnership(stateFolder: string, folder: string, name: string): Promise<Ownership> {
  const lock = tryLock(stateFolder);
  if (lock === null) throw await ownedSentence(stateFolder, name);
  const announce = (address: string | null): Promise<void> =>
    writeWhole(ownerPath(stateFolder), JSON.stringify({ pid: process.pid, folder, address } satisfies Owner), FOR_ME);
  await announce(null);
  return {
    announce,
    async release() {
      await rm(ownerPath(stateFolder), { force: true });
      // Closing alone would do it only once the engine has let go of every statement.
      lock.exec('rollback');
      lock.close();
    },
  };
}

function tryLock(stateFolder: string): IndexStore | null {
  const store = openLibsqlStore(join(stateFolder, 'lock.sqlite'), { busyTimeoutMs: 0, journal: 'delete' });
  try {
    store.exec('begin exclusive');
    return store;
  } catch (problem) {
    store.close();
    if (problem instanceof IndexError && /locked|busy/i.test(problem.message)) return null;
    throw problem;
  }
}

/** Who has the meeting with this state folder open; null when nobody has. */
export async function ownerIn(stateFolder: string): Promise<Owner | null> {
  const owner = await readOwner(stateFolder);
  return owner !== null && isAlive(owner.pid) ? owner : null;
}

async function readOwner(stateFolder: string): Promise<Owner | null> {
  try {
    return JSON.parse(await readFile(ownerPath(stateFolder), 'utf8')) as Owner;
  } catch {
    return null;
  }
}

function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch (problem) {
    return (problem as NodeJS.ErrnoException).code === 'EPERM';
  }
}

async function ownedSentence(stateFolder: string, name: string): Promise<MeetingError> {
  const owner = await readOwner(stateFolder);
  const who = owner === null ? 'another Tyrewall' : `another Tyrewall (process ${owner.pid}, folder ${owner.folder})`;
  const ask = owner?.address ? `Its desk is at ${owner.address}.` : 'Close it there first, or wait until it is done.';
  return new MeetingError(
    `Expected to open the meeting “${name}” alone but ${who} has it open on this machine. ${ask}`,
    {
      path: stateFolder,
      address: owner?.address ?? undefined,
    },
  );
}

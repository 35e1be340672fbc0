/** A meeting opened for work by this process: its folder, its other disks, its day. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readFills } from '../host/bringin/index.js';
import { type Day, type DayOptions, openDay } from '../host/day/index.js';
import { type Meeting, type OpenMeeting, openMeeting } from '../host/meeting/index.js';
import { writeWhole } from '../host/meeting/writeWhole.js';

export interface WholeDay {
  readonly meeting: OpenMeeting;
  readonly day: Day;
  readonly otherDisks: readonly string[];
  close(): Promise<void>;
}

export interface OpenWish extends Pick<DayOptions, 'workers' | 'judges'> {
  /** The same meeting's folders on other disks. They are remembered on this machine, outside the meeting's folder. */
  readonly otherDisks?: readonly string[];
  readonly stateRoot?: string;
  readonly isForLooking?: boolean;
}

export async function openWholeDay(folder: string, wish: OpenWish = {}): Promise<WholeDay> {
  const meeting = await openMeeting(folder, {
    readFills,
    ...(wish.stateRoot === undefined ? {} : { stateRoot: wish.stateRoot }),
    ...(wish.isForLooking === undefined ? {} : { isForLooking: wish.isForLooking }),
  });
  const otherDisks = await rememberedDisks(meeting, wish.otherDisks ?? []);
  const day = await openDay(meeting, {
    otherDisks,
    ...(wish.workers === undefined ? {} : { workers: wish.workers }),
    ...(wish.judges === undefined ? {} : { judges: wish.judges }),
  });
  return {
    meeting,
    day,
    otherDisks,
    async close() {
      await day.close();
      await meeting.close();
    },
  };
}

/** Disks said now and before; those that hold this meeting at this moment. */
async function rememberedDisks(meeting: Meeting, saidNow: readonly string[]): Promise<readonly string[]> {
  const file = join(meeting.stateFolder, 'disks.json');
  const before = await readFile(file, 'utf8').then(
    (text) => JSON.parse(text) as readonly string[],
    () => [],
  );
  const all = [...new Set([...saidNow, ...before, meeting.folder])];
  if (all.length !== before.length) await writeWhole(file, JSON.stringify(all));
  const here = await Promise.all(all.filter((path) => path !== meeting.folder).map((path) => holds(path, meeting)));
  return here.filter((path) => path !== null);
}

async function holds(folder: string, meeting: Meeting): Promise<string | null> {
  try {
    const about = JSON.parse(await readFile(join(folder, 'meeting.json'), 'utf8')) as { id: string };
    return about.id === meeting.about.id ? folder : null;
  } catch {
    return null;
  }
}

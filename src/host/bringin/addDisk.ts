/** A second disk, later: the whole meeting folder copied, its fills proven against their manifests on the way. */
import { readdir, readFile, stat, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { isPartName } from '../../core/bringin/names.js';
import { type BringInOptions, type BringInReport, bringIn } from './bringIn.js';
import { BringInError, meaningOf } from './errors.js';
import { cardsFolder } from './readFills.js';
import { fillFoldersOf } from './sources.js';
import { writeWhole } from './writeWhole.js';

export interface AddDiskReport extends BringInReport {
  /** Files outside `cards/` that were copied. */
  readonly otherFilesCopied: number;
  readonly troubles: readonly string[];
}

export type AddDiskOptions = Omit<BringInOptions, 'cards' | 'destinations'>;

/** Run again, it goes on where it was. Logs that grew apart are left as they are and named. */
export async function addDisk(
  meeting: string,
  newFolder: string,
  options: AddDiskOptions = {},
): Promise<AddDiskReport> {
  if (!(await stat(join(meeting, cardsFolder)).catch(() => null))) {
    throw new BringInError(
      `Expected a meeting folder with ${cardsFolder}/ at ${meeting} but found none. Give the meeting's folder.`,
      meeting,
    );
  }
  // Whatever has become of its meeting.json: a folder with cards is never called copied while they are not.
  const cards = await fillFoldersOf(meeting);
  const report = await bringIn({ ...options, cards, destinations: [newFolder] });
  const others: { copied: number; troubles: string[] } = { copied: 0, troubles: [] };
  if (report.refused.length === 0 && !options.signal?.aborted) await copyOthers(meeting, newFolder, '', others);
  const troubles = [
    ...report.refused.map((one) => one.sentence),
    ...report.cards.flatMap((card) => card.troubles),
    ...others.troubles,
  ];
  return { ...report, otherFilesCopied: others.copied, troubles };
}

interface Others {
  copied: number;
  readonly troubles: string[];
}

async function copyOthers(from: string, to: string, folder: string, others: Others): Promise<void> {
  for (const entry of await readdir(join(from, folder), { withFileTypes: true })) {
    const path = folder === '' ? entry.name : `${folder}/${entry.name}`;
    if (path === cardsFolder || isPartName(entry.name)) continue;
    if (entry.isDirectory()) await copyOthers(from, to, path, others);
    else if (entry.isFile()) await copyOther(from, to, path, others);
  }
}

async function copyOther(from: string, to: string, path: string, others: Others): Promise<void> {
  try {
    const bytes = await readFile(join(from, path));
    const there = await readFile(join(to, path)).catch(() => null);
    if (there?.equals(bytes)) return;
    if (there !== null && !bytes.subarray(0, there.length).equals(there)) {
      others.troubles.push(
        `${path} differs on the two disks, and neither goes on from the other. Both were left as they are.`,
      );
      return;
    }
    await writeWhole(join(to, path), bytes);
    const { atime, mtime } = await stat(join(from, path));
    await utimes(join(to, path), atime, mtime);
    others.copied++;
  } catch (error) {
    others.troubles.push(`Expected to copy ${path} but ${meaningOf(error)}. The rest went on; try again.`);
  }
}

/** What a given path is: a card or folder, a fill somebody brought in before, or a meeting folder full of them. */
import { readdir, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { Fill } from '../../core/bringin/types.js';
import { fillOfHistory, type History, readHistory } from './history.js';
import { cardsFolder } from './readFills.js';

/** A source with a history of its own comes with its id, and its manifests say what each file must be. */
export interface OwnHistory {
  readonly history: History;
  readonly fill: Fill;
}

/** A meeting folder stands for the fills in it; everything else for itself. */
export async function spreadSources(paths: readonly string[]): Promise<readonly string[]> {
  const spread = await Promise.all(paths.map(async (path) => ((await isMeeting(path)) ? fillFoldersOf(path) : [path])));
  return spread.flat();
}

const isMeeting = (path: string): Promise<boolean> =>
  stat(join(path, 'meeting.json')).then(
    (found) => found.isFile(),
    () => false,
  );

export async function fillFoldersOf(meeting: string): Promise<readonly string[]> {
  const entries = await readdir(join(meeting, cardsFolder), { withFileTypes: true }).catch(() => []);
  return entries.filter((entry) => entry.isDirectory()).map((entry) => join(meeting, cardsFolder, entry.name));
}

export async function readOwnHistory(source: string): Promise<OwnHistory | null> {
  const history = await readHistory(source);
  const fill = history === null ? null : fillOfHistory(basename(source), history);
  return history === null || fill === null ? null : { history, fill };
}

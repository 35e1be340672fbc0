/** Pages behind private links that were ended, made anew, or whose rider was taken down: they leave every edition at once. */
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Takedowns } from '../../core/finish/index.js';
import { endedSetIds } from '../../core/handover/find/index.js';
import type { PublicIdOf } from '../../core/handover/index.js';
import type { FoldedLog } from '../../core/log/types.js';
import { filesIn } from './takeDown.js';

/** Returns how many pages were removed. */
export async function removeEndedLinks(
  galleries: string,
  log: FoldedLog,
  takedowns: Takedowns,
  publicIdOf: PublicIdOf,
): Promise<number> {
  const ended = endedSetIds(log, takedowns.riderIds, publicIdOf);
  if (ended.size === 0) return 0;
  const pages = (await filesIn(galleries)).filter((path) =>
    ended.has(/\/mine\/([0-9a-f]{32})\.html$/.exec(path)?.[1] ?? ''),
  );
  await Promise.all(pages.map((path) => rm(join(galleries, path), { force: true })));
  return pages.length;
}

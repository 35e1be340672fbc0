/** What the other meetings of this machine took, from their fetched orders alone: no day is opened for it. */
import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type MeetingTakings, takingsOf } from '../../core/review/takings/index.js';
import { publicIdsOf, secretSoFar } from '../gallery/secret.js';
import { readAbout } from '../meeting/about.js';
import { readFetchedOrders } from '../orders/fetchedOrders.js';

export interface Elsewhere {
  readonly meetings: readonly MeetingTakings[];
  /** Meetings that are here and could not be read, in sentences. */
  readonly left: readonly string[];
}

/** A meeting whose disk is not here is left out; each counts once, on however many disks it lies. */
export async function takingsElsewhere(stateRoot: string, here: string): Promise<Elsewhere> {
  const meetings = await readdir(join(stateRoot, 'meetings')).catch(() => []);
  const found = await Promise.allSettled(
    meetings
      .filter((id) => id !== here)
      .map(async (id) => {
        const folder = await folderHere(join(stateRoot, 'meetings', id));
        return folder === undefined ? null : takingsIn(folder);
      }),
  );
  return {
    meetings: found.flatMap((one) => (one.status === 'fulfilled' && one.value !== null ? [one.value] : [])),
    left: found.flatMap((one) => (one.status === 'rejected' ? [(one.reason as Error).message] : [])),
  };
}

async function folderHere(stateFolder: string): Promise<string | undefined> {
  const text = await readFile(join(stateFolder, 'disks.json'), 'utf8').catch(() => '[]');
  return (JSON.parse(text) as readonly string[]).find((folder) => existsSync(join(folder, 'meeting.json')));
}

async function takingsIn(folder: string): Promise<MeetingTakings> {
  const { id, name, firstDay, organiser } = await readAbout(folder);
  const secret = await secretSoFar(folder);
  const { facts, papers } = await readFetchedOrders(folder);
  const { takings } = takingsOf({
    facts,
    papers,
    ...(secret === null ? {} : { meeting: publicIdsOf(secret)('meeting', id) }),
    places: new Map(),
    riders: new Map(),
    minutes: new Map(),
    commission: organiser?.commission ?? null,
  });
  return { meeting: `${name}, ${firstDay}`, takings };
}

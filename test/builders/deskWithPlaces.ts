/** A made-up day whose gallery lies in a folder, with places to put it up to: the real work, over files of a few bytes. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deskHandover } from '../../src/cli/deskHandover.js';
import type { WholeDay } from '../../src/cli/openWholeDay.js';
import type { PublicIdOf } from '../../src/core/handover/index.js';
import { meetingSecret, publicIdsOf } from '../../src/host/gallery/index.js';
import { keepPlace } from '../../src/host/putUp/index.js';
import type { HandoverWork } from '../../src/server/index.js';
import type { FakeDay } from '../../src/server/testing/fakeDay.js';

export interface WithPlaces {
  readonly folder: string;
  /** A folder place by the name of `stick`. */
  readonly stick: string;
  readonly idOf: PublicIdOf;
  /** The work, over the day once there is one. */
  readonly work: HandoverWork;
  /** The gallery of these frames, and the day it is of. */
  lay(day: FakeDay, frames: number): Promise<void>;
  remove(): Promise<void>;
}

export async function deskWithPlaces(): Promise<WithPlaces> {
  const root = await mkdtemp(join(tmpdir(), 'tyrewall-places-'));
  const [folder, stick, stateRoot] = [join(root, 'meeting'), join(root, 'stick'), join(root, 'state')];
  await Promise.all([folder, stick].map((one) => mkdir(one)));
  await keepPlace(stateRoot, 'stick', { kind: 'folder', folder: stick });
  // No order service of this machine is asked.
  const before = process.env.TYREWALL_STATE;
  process.env.TYREWALL_STATE = stateRoot;
  const idOf = publicIdsOf(await meetingSecret(folder));
  let inner: HandoverWork | null = null;
  // The desk is opened with it before the day it works over is there.
  const work = new Proxy({} as HandoverWork, { get: (_, name) => inner?.[name as keyof HandoverWork] });
  return {
    folder,
    stick,
    idOf,
    work,
    lay: async (day, frames) => {
      const { about, arrangement } = day.state();
      const meeting = {
        folder,
        stateFolder: join(stateRoot, 'meetings', about.id),
        about,
        people: { get: () => undefined },
      };
      await mkdir(meeting.stateFolder, { recursive: true });
      inner = deskHandover({ meeting, day, otherDisks: [] } as unknown as WholeDay);
      const edition = join(folder, 'made', 'gallery', about.firstDay);
      await mkdir(join(edition, 'p'), { recursive: true });
      const bikes = arrangement.exposures.filter(({ role }) => role === 'bike').slice(0, frames);
      const pictures = bikes.map(({ frameId }) => `p/${idOf('frame', frameId)}.jpg`);
      for (const picture of pictures) await writeFile(join(edition, picture), picture);
      const lines = pictures.map((picture) => `<img src="${picture}" alt="">`);
      await writeFile(join(edition, 'index.html'), `<!doctype html>\n${lines.join('\n')}\n`);
    },
    remove: async () => {
      if (before === undefined) delete process.env.TYREWALL_STATE;
      else process.env.TYREWALL_STATE = before;
      await rm(root, { recursive: true });
    },
  };
}

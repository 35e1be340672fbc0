/** The mark of proofs as the desk lays it: in the meeting's folder, and beside the finishes of this machine. */
import { readFile } from 'node:fs/promises';
import { keepOwnMark, letGoOwnMark, ownMarkOf, prepareOwnMark } from '../host/finish/marks/index.js';
import { readAbout } from '../host/meeting/about.js';
import type { OpenMeeting } from '../host/meeting/index.js';
import { stateRootOf } from '../host/meeting/stateFolder.js';
import type { ProofMark } from '../server/index.js';

export function deskMark({ folder, stateFolder }: Pick<OpenMeeting, 'folder' | 'stateFolder'>): ProofMark {
  const stateRoot = stateRootOf(stateFolder);
  return {
    picture: async () => {
      const own = await ownMarkOf(folder, await readAbout(folder));
      return own === null ? null : readFile(own.path);
    },
    keep: async (name, bytes) => void (await keepOwnMark(folder, stateRoot, await prepareOwnMark(name, bytes))),
    letGo: async () => void (await letGoOwnMark(folder, stateRoot)),
  };
}

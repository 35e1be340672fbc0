/** A folder of this machine: a mounted disk, or what a web server serves. */
import { mkdir, readFile, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { writeAtomically } from '../finish/atomically.js';
import { filesBelow } from './filesBelow.js';
import { PutUpError, wordsOf } from './putUpError.js';
import type { Place, PlaceAddress } from './types.js';

export function folderPlace({ folder: root }: Extract<PlaceAddress, { kind: 'folder' }>): Place {
  const said = `the folder ${root}`;
  /** A disk that is not plugged in must not be taken for an empty one. */
  const isHere = async (): Promise<void> => {
    const found = await stat(root).catch(() => null);
    if (found?.isDirectory()) return;
    const sentence = `Expected ${said}, but it is not there. Plug the disk in or make the folder, and put up again.`;
    throw new PutUpError(sentence, root);
  };
  const stampOf = async (path: string) => {
    const { size, mtimeMs, ino } = await stat(join(root, path));
    return { path, bytes: size, stamp: `${mtimeMs}-${ino}` };
  };
  return {
    said,
    async list(folder) {
      await isHere();
      const paths = await filesBelow(join(root, folder));
      return Promise.all(paths.map((path) => stampOf(folder === '' ? path : `${folder}/${path}`)));
    },
    async put(path, bytes) {
      await isHere();
      try {
        await mkdir(dirname(join(root, path)), { recursive: true });
        await writeAtomically(join(root, path), bytes);
        return await stampOf(path);
      } catch (error) {
        throw refusal(said, path, error);
      }
    },
    read: (path) => readFile(join(root, path)).catch(absent),
    async remove(path) {
      await isHere();
      await rm(join(root, path), { force: true }).catch((error) => {
        throw refusal(said, path, error);
      });
    },
    async close() {},
  };
}

function absent(error: NodeJS.ErrnoException): null {
  if (error.code === 'ENOENT' || error.code === 'ENOTDIR') return null;
  throw error;
}

const refusal = (said: string, path: string, error: unknown): PutUpError =>
  new PutUpError(
    `Expected to write ${path} in ${said}, but it said: ${wordsOf(error)}. Look at its space and permissions and put up again.`,
    path,
    { cause: error },
  );

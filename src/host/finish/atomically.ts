/** Files that are there whole or not at all: written under another name, flushed, then renamed. */
import { randomUUID } from 'node:crypto';
import { open, readdir, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** What is left behind by a run that was killed begins with this. */
export const UNFINISHED = '.unfinished-';

export async function writeAtomically(path: string, bytes: Uint8Array | string): Promise<void> {
  const temporary = join(dirname(path), `${UNFINISHED}${randomUUID()}`);
  const file = await open(temporary, 'wx');
  try {
    await file.writeFile(bytes);
    await file.sync();
  } catch (error) {
    await file.close();
    await rm(temporary, { force: true });
    throw error;
  }
  await file.close();
  await rename(temporary, path);
}

/** Removes what killed runs left in a folder. */
export async function removeUnfinished(folder: string): Promise<void> {
  const left = (await readdir(folder)).filter((name) => name.startsWith(UNFINISHED));
  await Promise.all(left.map((name) => rm(join(folder, name), { force: true })));
}

/** Rewritable files: the new content is there whole, or the old one still is. */
import { randomBytes } from 'node:crypto';
import { open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { flushFolder } from '../logbook/index.js';

/** `mode` as a file system takes it; others on this machine may read what says nothing else. */
export async function writeWhole(path: string, content: string | Uint8Array, mode = 0o644): Promise<void> {
  const beside = `${path}.${randomBytes(4).toString('hex')}.part`;
  try {
    const handle = await open(beside, 'wx', mode);
    try {
      await handle.writeFile(content, 'utf8');
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(beside, path);
  } catch (problem) {
    await rm(beside, { force: true });
    throw problem;
  }
  await flushFolder(dirname(path));
}

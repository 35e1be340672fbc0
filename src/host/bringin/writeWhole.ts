/** Writes a small file so that it is whole or absent: hidden name, flush, rename, flush of the folder. */
import { mkdir, open, rename } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { partPrefix } from '../../core/bringin/names.js';
import { nodeDisk } from './disk.js';

export async function writeWhole(path: string, bytes: Uint8Array): Promise<void> {
  const folder = dirname(path);
  await mkdir(folder, { recursive: true });
  const part = join(folder, `${partPrefix}${basename(path)}`);
  const file = await open(part, 'w');
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
  await rename(part, path);
  await nodeDisk.syncFolder(folder);
}

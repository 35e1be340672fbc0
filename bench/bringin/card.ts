/** The card that is brought in, and the steps of doing it by hand. */
import { execFile } from 'node:child_process';
import { randomFillSync } from 'node:crypto';
import { mkdir, open, readdir, writeFile } from 'node:fs/promises';
import { dirname, join, relative } from 'node:path';
import { promisify } from 'node:util';
import { nodeDisk } from '../../src/host/bringin/disk.js';
import { readBack } from '../../src/host/bringin/readBack.js';
import { throttleTo } from '../../src/host/bringin/throttle.js';

const run = promisify(execFile);

export async function makeCard(card: string, files: number, bytes: number): Promise<string> {
  const folder = join(card, 'DCIM', '100BENCH');
  await mkdir(folder, { recursive: true });
  const content = Buffer.alloc(bytes);
  for (let number = 1; number <= files; number++) {
    await writeFile(join(folder, `BNCH${String(number).padStart(4, '0')}.JPG`), randomFillSync(content));
  }
  await run('sync');
  return card;
}

export async function filesUnder(folder: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

/** A card that was just put in is not in memory. GNU dd asks the system to forget a file; elsewhere nothing happens. */
export async function forgetCached(folder: string): Promise<void> {
  for (const file of await filesUnder(folder)) {
    await run('dd', [`if=${file}`, 'iflag=nocache', 'count=0']).catch(() => undefined);
  }
}

export async function copySlowly(from: string, to: string, bytesPerSecond: number): Promise<void> {
  const throttle = throttleTo(bytesPerSecond);
  const buffer = Buffer.alloc(4 * 1_048_576);
  for (const path of await filesUnder(from)) {
    const target = join(to, relative(from, path));
    await mkdir(dirname(target), { recursive: true });
    const [source, copy] = [await open(path, 'r'), await open(target, 'w')];
    for (let length = 1; length > 0; ) {
      length = (await source.read(buffer, 0, buffer.length)).bytesRead;
      await throttle(length);
      await copy.write(buffer, 0, length);
    }
    await Promise.all([source.close(), copy.close()]);
  }
}

/** One file after another, past the page cache. Resolves with the number of files. */
export async function readBackAll(folder: string): Promise<number> {
  const files = await filesUnder(folder);
  for (const file of files) await readBack(nodeDisk, file, ['xxh128']);
  return files.length;
}

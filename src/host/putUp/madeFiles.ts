/** A gallery as it was made on this disk, read for putting it up. What was taken down since is not read. */
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { idsIn, type MadeFile, type Weigh, withoutLines } from '../../core/handover/putUp/index.js';
import { filesBelow } from './filesBelow.js';

export const tagOf = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex');

export const weigh: Weigh = (text) => ({ bytes: Buffer.byteLength(text), tag: tagOf(text) });

/** A file of what is still being made is not part of it. */
const IS_OURS = /^(?!\.)(?!.*\/\.)/;

/** None where there is no such folder. */
export async function madeFiles(folder: string, withdrawn: ReadonlySet<string>): Promise<readonly MadeFile[]> {
  const paths = (await filesBelow(folder)).filter(
    (path) => IS_OURS.test(path) && !idsIn(path).some((id) => withdrawn.has(id)),
  );
  const files: MadeFile[] = [];
  for (const path of [...paths].sort()) files.push(await madeFile(folder, path, withdrawn));
  return files;
}

async function madeFile(folder: string, path: string, withdrawn: ReadonlySet<string>): Promise<MadeFile> {
  const content = await readFile(join(folder, path));
  if (!/\.(?:html|css|js|txt)$/.test(path)) return { path, bytes: content.length, tag: tagOf(content), text: null };
  const text = path.endsWith('.html') ? withoutLines(content.toString(), withdrawn) : content.toString();
  return { path, ...weigh(text), text };
}

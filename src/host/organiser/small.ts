/** Small pictures for the share page, so that fifteen of them come over a poor line. */
import { mkdir, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { removeUnfinished, writeAtomically } from '../finish/index.js';

const EDGE_PX = 720;

/** Made again where the picture is newer; what is not in the list is removed. */
export async function laySmall(from: string, to: string, files: readonly string[]): Promise<void> {
  await mkdir(to, { recursive: true });
  await removeUnfinished(to);
  for (const name of await readdir(to)) if (!files.includes(name)) await rm(join(to, name));
  for (const file of files) {
    const path = join(from, file);
    const [there, source] = await Promise.all([stat(join(to, file)).catch(() => null), stat(path)]);
    if (there !== null && there.mtimeMs >= source.mtimeMs) continue;
    const size = { width: EDGE_PX, height: EDGE_PX, fit: 'inside', withoutEnlargement: true } as const;
    await writeAtomically(join(to, file), await sharp(path).rotate().resize(size).jpeg({ quality: 78 }).toBuffer());
  }
}

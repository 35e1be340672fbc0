/** Brings back manifests and chains that were changed or lost, from the same fill on another disk. */
import { readdir, readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { chainName, manifestFolder } from '../../core/bringin/manifest.js';
import type { ChainLink } from '../../core/bringin/manifestTypes.js';
import { c4Of } from './hashing.js';
import { type History, readHistory } from './history.js';
import { writeWhole } from './writeWhole.js';

export interface MendedHistory {
  /** Names in `ascmhl/` that were written anew. */
  readonly mended: readonly string[];
  readonly troubles: readonly string[];
}

/** Only by bytes that the chain vouches for; a history that grew otherwise here is left alone and named. */
export async function mendHistory(folder: string, good: string): Promise<MendedHistory> {
  const here = await readHistory(folder);
  if (here === null || here.troubles.length === 0) return { mended: [], troubles: [] };
  const there = await readHistory(good);
  const name = basename(folder);
  if (there === null || there.troubles.length > 0)
    return refused(`The manifests of ${name} are in trouble on the other disk too. Try a third copy.`);
  const isChainRead = here.chain.every((link) => link.c4 !== '');
  if (!isChainRead && !(await knowsAll(there, folder)))
    return refused(`${name} has manifests here that the other disk does not know, so its chain was left as it is.`);
  const mended: string[] = [];
  const troubles: string[] = [];
  for (const link of isChainRead ? here.chain : there.chain) {
    if (await isAsSaid(folder, link)) continue;
    if (!there.chain.some((other) => other.path === link.path && other.c4 === link.c4))
      troubles.push(`The other disk does not have the manifest ${link.path} of ${name} as the chain says it must be.`);
    else mended.push(await bring(link.path, good, folder));
  }
  if (!isChainRead) mended.push(await bring(chainName, good, folder));
  return { mended, troubles };
}

const refused = (sentence: string): MendedHistory => ({ mended: [], troubles: [sentence] });

async function knowsAll(there: History, folder: string): Promise<boolean> {
  const names = await readdir(join(folder, manifestFolder));
  const known = new Set(there.chain.map((link) => link.path));
  return names.filter((name) => name.endsWith('.mhl')).every((name) => known.has(name));
}

const isAsSaid = (folder: string, link: ChainLink): Promise<boolean> =>
  readFile(join(folder, manifestFolder, link.path)).then(
    (bytes) => c4Of(bytes) === link.c4,
    () => false,
  );

async function bring(name: string, good: string, folder: string): Promise<string> {
  await writeWhole(join(folder, manifestFolder, name), await readFile(join(good, manifestFolder, name)));
  return `${manifestFolder}/${name}`;
}

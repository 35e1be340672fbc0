/** Whether a gallery that lies somewhere is whole: everything its entry leads to, page by page, is there. */
import { ENTRY } from './editionOf.js';
import { referencesOf } from './references.js';

/** Null where there is no such file. Of what is neither page nor style only its being there counts. */
export type ReadText = (path: string) => Promise<string | null>;

export interface Crawled {
  readonly reached: readonly string[];
  /** Referred to and not there. */
  readonly missing: readonly { readonly path: string; readonly on: string }[];
}

/** A place without an entry leads nowhere, and so to nothing that is missing. */
export async function crawl(read: ReadText): Promise<Crawled> {
  const reached = new Set<string>();
  const missing: { path: string; on: string }[] = [];
  const queue: [path: string, on: string][] = [[ENTRY, '']];
  for (const [path, on] of queue) {
    if (reached.has(path)) continue;
    const text = await read(path);
    if (text === null) {
      if (on !== '') missing.push({ path, on });
      continue;
    }
    reached.add(path);
    if (!/\.(?:html|css)$/.test(path)) continue;
    for (const to of referencesOf(text, path)) {
      // A folder given to a script holds its data; a folder that is linked to is answered by its first page.
      if (!to.endsWith('/')) queue.push([to, path]);
    }
  }
  return { reached: [...reached], missing };
}

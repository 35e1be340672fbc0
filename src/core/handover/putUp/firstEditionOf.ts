/**
 * What goes up before anything else, so that riders find themselves within minutes over a phone's line: pages with one
 * best picture of each rider, and each picture in its lightest files only. Rule PU5.
 */
import { ENTRY, editionOf, idsIn } from './editionOf.js';
import type { Edition, MadeFile, Weigh } from './types.js';

/** `pages` are the first edition's own; everything they show is among `made`. */
export function firstEditionOf(pages: readonly MadeFile[], made: readonly MadeFile[], weigh: Weigh): Edition {
  const lightest = lightestOf(made);
  const goesUp = (file: MadeFile): boolean =>
    !isPage(file) && (instead(file.path, lightest) ?? file.path) === file.path;
  const whole = editionOf([...pages.filter(isPage), ...made.filter(goesUp)], {
    weigh,
    instead: (path) => instead(path, lightest),
  });
  const byPath = new Map(whole.files.map((file) => [file.path, file]));
  const reached = new Set<string>();
  const queue = [ENTRY, ...whole.files.filter(({ path }) => !path.includes('/')).map(({ path }) => path)];
  for (const path of queue) {
    if (reached.has(path)) continue;
    reached.add(path);
    queue.push(...(byPath.get(path)?.leadsTo ?? []));
  }
  return { files: whole.files.filter((file) => reached.has(file.path)) };
}

const isPage = (file: MadeFile): boolean => file.path.endsWith('.html');
const isPicture = (path: string): boolean => /\.(?:jpg|webp|avif)$/.test(path) && idsIn(path).length > 0;
const extensionOf = (path: string): string => path.slice(path.lastIndexOf('.'));
const keyOf = (folder: string, path: string): string => `${folder}/${idsIn(path)[0]}${extensionOf(path)}`;
const folderOf = (path: string): string => path.slice(0, path.lastIndexOf('/'));

/** By folder, id and format. */
function lightestOf(made: readonly MadeFile[]): ReadonlyMap<string, string> {
  const lightest = new Map<string, MadeFile>();
  for (const file of made.filter(({ path }) => isPicture(path))) {
    const key = keyOf(folderOf(file.path), file.path);
    const before = lightest.get(key);
    if (before === undefined || file.bytes < before.bytes) lightest.set(key, file);
  }
  return new Map([...lightest].map(([key, { path }]) => [key, path]));
}

/** A proof waits: until then its small picture stands in for it. Faces all go up, for cards that scripts bring. */
function instead(path: string, lightest: ReadonlyMap<string, string>): string | null {
  if (!isPicture(path) || !/(?:^|\/)(?:proof|small)\//.test(path)) return null;
  const folder = folderOf(path);
  const small = folder.endsWith('proof')
    ? lightest.get(keyOf(`${folder.slice(0, -'proof'.length)}small`, path))
    : undefined;
  return small ?? lightest.get(keyOf(folder, path)) ?? null;
}

/**
 * References from one file of the gallery to another: literal, relative addresses in pages and styles. What a script
 * puts together is not seen here; `editionOf` leaves the names of such files as they are.
 */

/** The file or folder (`find/`) referred to, from the gallery's root, becomes another; null leaves it as it is. */
export type Renamed = (target: string) => string | null;

const ADDRESS = /(\s(?:href|src|poster)=")([^"<>\s]+)(?=")/g;
/** Given to a script; without a stroke in it, it is a word. */
const GIVEN = /(\sdata-[a-z-]+=")([^"<>\s/]*\/[^"<>\s]*)(?=")/g;
const ADDRESSES = /(\s(?:srcset|imagesrcset)=")([^"<>]+)(?=")/g;
const FORWARD = /(\scontent="\d+;\s*url=)([^"<>\s]+)(?=")/gi;
const IN_STYLE = /(url\(\s*["']?)([^"')\s]+)(?=["']?\s*\))/g;

export function renameReferences(text: string, path: string, renamed: Renamed): string {
  const one = (address: string): string => renameOne(address, path, renamed);
  const inPlace = (_: string, before: string, address: string): string => before + one(address);
  if (path.endsWith('.css')) return text.replace(IN_STYLE, inPlace);
  return text
    .replace(ADDRESS, inPlace)
    .replace(GIVEN, inPlace)
    .replace(FORWARD, inPlace)
    .replace(ADDRESSES, (_, before: string, several: string) => {
      const inSet = (_whole: string, gap: string, address: string): string => gap + one(address);
      return before + several.replace(/(^\s*|,\s*)([^\s,]+)/g, inSet);
    });
}

/** A style written into a page is known to the page's policy by its hash and stays as it is: so must what it names. */
export function namedInStyles(text: string, path: string): readonly string[] {
  if (path.endsWith('.css')) return [];
  const targets = [...text.matchAll(IN_STYLE)].map(([, , address]) => resolvedFrom(path, address!));
  return [...new Set(targets.filter((target) => target !== null))];
}

/** Files and folders referred to, each once; a folder ends in `/`. */
export function referencesOf(text: string, path: string): readonly string[] {
  const found = new Set<string>();
  renameReferences(text, path, (target) => {
    found.add(target);
    return null;
  });
  return [...new Set([...found, ...namedInStyles(text, path)])];
}

function renameOne(address: string, path: string, renamed: Renamed): string {
  const [, plain, behind] = /^([^?#]*)(.*)$/s.exec(address)!;
  const target = resolvedFrom(path, plain!);
  const name = target === null ? null : renamed(target);
  return name === null ? address : `${rootOf(path)}${name}${behind}`;
}

const rootOf = (path: string): string => '../'.repeat(path.split('/').length - 1);

/** Null for what is no relative address, or leaves the gallery. */
function resolvedFrom(path: string, address: string): string | null {
  if (address === '' || /^(?:[a-z][a-z0-9+.-]*:|\/)/i.test(address) || !/^[\w./-]+$/.test(address)) return null;
  const parts = path.split('/').slice(0, -1);
  for (const part of address.split('/')) {
    if (part === '..') {
      if (parts.pop() === undefined) return null;
    } else if (part !== '.' && part !== '') parts.push(part);
  }
  const isFolder = /(?:^|\/)\.{0,2}$/.test(address);
  return isFolder && parts.length > 0 ? `${parts.join('/')}/` : parts.join('/');
}

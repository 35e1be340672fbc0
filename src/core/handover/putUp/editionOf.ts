/**
 * Names at the place. Pages keep their addresses: people hold them as links and on printed cards. What pages show is
 * named by its content, so a page that lies there still finds its own pictures, look and data while another edition
 * comes up beside it. Rules PU2 and PU3 in docs/rules/putting-up.md.
 */
import { namedInStyles, referencesOf, renameReferences } from './references.js';
import type { Edition, EditionFile, MadeFile, Weigh } from './types.js';

export const ENTRY = 'index.html';
/** Enough of a SHA-256 for the files of one gallery: 40 bits, 1 in 100,000 that any two of 5,000 versions of one file meet. */
const TAG_DIGITS = 10;

export interface EditionOptions {
  readonly weigh: Weigh;
  /** What stands in for a file this edition leaves out, for instance a small picture for the proof. */
  readonly instead?: (path: string) => string | null;
}

export function editionOf(made: readonly MadeFile[], { weigh, instead = () => null }: EditionOptions): Edition {
  const files = new Map(made.map((file) => [file.path, file]));
  const names = namesOf(made, files, weigh);
  const renamed = (target: string): string | null => {
    const stands = files.has(target) ? target : (instead(target) ?? target);
    const name = names.get(stands) ?? stands;
    return name === target ? null : name;
  };
  const placedAt = new Set(made.map((file) => names.get(file.path)!));
  const inFolders = new Map<string, string[]>();
  for (const path of placedAt) {
    const folder = path.slice(0, path.lastIndexOf('/') + 1);
    const inside = inFolders.get(folder) ?? [];
    inFolders.set(folder, inside);
    inside.push(path);
  }
  /** A folder that is linked to is answered by its first page; one that is given to a script is all that is in it. */
  const filesAt = (target: string): readonly string[] => {
    if (target !== '' && !target.endsWith('/')) return [target];
    const page = `${target}${ENTRY}`;
    return placedAt.has(page) ? [page] : target === '' ? [] : (inFolders.get(target) ?? []);
  };
  return { files: made.map((file) => placed(file, names.get(file.path)!, { renamed, filesAt, weigh })) };
}

interface Placing {
  readonly renamed: (target: string) => string | null;
  readonly filesAt: (target: string) => readonly string[];
  readonly weigh: Weigh;
}

function placed(file: MadeFile, path: string, { renamed, filesAt, weigh }: Placing): EditionFile {
  const isPage = file.path.endsWith('.html');
  const role = isPage ? (path === ENTRY ? 'entry' : 'page') : path === file.path ? 'kept' : 'byContent';
  const names = (isPage || isFindData(file.path)) && file.text !== null ? idsIn(file.text) : [];
  if (file.text === null || !canRefer(file.path))
    return {
      path,
      role,
      bytes: file.bytes,
      tag: file.tag,
      from: { kind: 'made', path: file.path },
      leadsTo: [],
      names,
    };
  const text = renameReferences(file.text, file.path, renamed);
  const leadsTo = referencesOf(text, path).flatMap(filesAt);
  return { path, role, ...weigh(text), from: { kind: 'text', text }, leadsTo, names };
}

/** What the script of finding reads, also under its name at a place. */
export const isFindData = (path: string): boolean => /(?:^|\/)find(?:\.[0-9a-f]{10})?\/[^/]+\.txt$/.test(path);
const canRefer = (path: string): boolean => /\.(?:html|css)$/.test(path);
const IDS = /\b[0-9a-f]{32}\b/g;
/** Public ids in a text or a path. */
export const idsIn = (text: string): readonly string[] => [...new Set(text.match(IDS) ?? [])];

/** Names of files, and of folders (`find/`) that pages give to their scripts, at the place. */
function namesOf(
  made: readonly MadeFile[],
  files: ReadonlyMap<string, MadeFile>,
  weigh: Weigh,
): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  const foldersGiven = new Set(
    made.filter(isPageText).flatMap((page) => referencesOf(page.text!, page.path).filter((to) => to.endsWith('/'))),
  );
  const said = foldersScriptsSay(made);
  const inStyles = new Set(made.filter(isPageText).flatMap((page) => namedInStyles(page.text!, page.path)));
  for (const folder of foldersGiven) {
    const inside = made.filter((file) => file.path.startsWith(folder));
    if (inside.length === 0 || inside.some((file) => file.path.endsWith('.html'))) continue;
    const whole = weigh(
      inside
        .map((file) => `${file.path} ${file.tag}`)
        .sort()
        .join('\n'),
    );
    const name = `${folder.slice(0, -1)}.${whole.tag.slice(0, TAG_DIGITS)}/`;
    names.set(folder, name);
    for (const file of inside) names.set(file.path, name + file.path.slice(folder.length));
  }
  const keeps = (path: string): boolean =>
    !path.includes('/') || path.endsWith('.html') || inStyles.has(path) || said.some((folder) => path.includes(folder));
  const tagged = (file: MadeFile, tag: string): string =>
    file.path.replace(/(?=\.[^./]+$)/, `.${tag.slice(0, TAG_DIGITS)}`);
  const plain = made.filter((file) => !names.has(file.path));
  // A style is named by what it says once the files it names have theirs.
  const styles = plain.filter((file) => file.path.endsWith('.css') && file.text !== null);
  for (const file of plain) {
    if (!styles.includes(file)) names.set(file.path, keeps(file.path) ? file.path : tagged(file, file.tag));
  }
  for (const file of styles) {
    const text = renameReferences(file.text!, file.path, (to) => (files.has(to) ? (names.get(to) ?? null) : null));
    names.set(file.path, keeps(file.path) ? file.path : tagged(file, weigh(text).tag));
  }
  return names;
}

const isPageText = (file: MadeFile): boolean => file.path.endsWith('.html') && file.text !== null;

/**
 * A script that says `face/` puts addresses in it together by itself, and its data may hold whole lines of pages: what
 * they ask for must be found under its own name.
 */
function foldersScriptsSay(made: readonly MadeFile[]): readonly string[] {
  const scripts = made.filter(({ path, text }) => text !== null && /\/[^/]+\.(?:js|txt)$/.test(path));
  const folders = new Set(made.map((file) => file.path.split('/').at(-2)).filter((name) => name !== undefined));
  return [...folders]
    .map((name) => `${name}/`)
    .filter((folder) => scripts.some((script) => script.text!.includes(folder)));
}

/** Whose session it is, and what it is called: from the words of its line. */
import type { Group } from '../types.js';
import { FILLERS, GROUP_WORDS, PHRASES, plain } from './words.js';

export interface SessionWords {
  /** `N1` where the line has such a name. */
  readonly code: { readonly letters: string; readonly name: string } | null;
  /** The group's name as written; empty where the line has none. */
  readonly group: string;
  /** Which of the group's sessions, where the line says so. */
  readonly nth: number | null;
}

const CODE = /^(\p{L}{1,3})[-.]?(\d{1,3})(?![\p{L}\d])/u;
const WORD = /[\p{L}\p{N}]+/gu;

/** `session`: the cell of that name, else empty. `text`: group, or all that is left of a line. */
export function sessionWordsOf(session: string, text: string): SessionWords {
  const all = `${session} ${text}`.trim();
  const first = CODE.exec(all);
  const code =
    first && !FILLERS.test(plain(first[1]!)) ? { letters: first[1]!, name: first[0].replace(/[-.]/, '') } : null;
  const words = code ? all.slice(first![0].length) : all;
  return { code, ...groupAndNth(withoutPhrases(words)) };
}

const withoutPhrases = (text: string): string =>
  [PHRASES.sighting, PHRASES.openPitLane, FILLERS].reduce((left, phrase) => without(left, phrase), text);

/** The text without a phrase, wherever it stands; the rest stays as it was written. */
export function without(text: string, phrase: RegExp): string {
  const words = [...text.matchAll(WORD)];
  const starts: number[] = [];
  let joined = '';
  for (const word of words) {
    if (joined !== '') joined += ' ';
    starts.push(joined.length);
    joined += plain(word[0]);
  }
  const match = phrase.exec(joined);
  if (match === null) return text;
  const from = starts.indexOf(match.index);
  const to = starts.findLastIndex((start) => start < match.index + match[0].length);
  const [first, last] = [words[from], words[to]];
  if (!first || !last) return text;
  return without(`${text.slice(0, first.index)} ${text.slice(last.index + last[0].length)}`, phrase);
}

const EDGES = /^[\s\-–—:,;|/.#()]+|[\s\-–—:,;|/.#(]+$/gu;

/** A number at either end says which session it is, unless it is the group's own: `Group 2`, `Twins 600`. */
function groupAndNth(text: string): Omit<SessionWords, 'code'> {
  let group = text
    .replace(/\(\s*\)/g, ' ')
    .replace(/\s+/g, ' ')
    .replace(EDGES, '');
  let nth: number | null = null;
  const before = /^(\d{1,2})(?!\d)[\s.:)-]*/.exec(group);
  if (before) {
    nth = Number(before[1]);
    group = group.slice(before[0].length);
  }
  const after = /[\s#.-]+(\d{1,2})$/.exec(group);
  if (after && !isOwnNumber(group.slice(0, after.index))) {
    nth ??= Number(after[1]);
    group = group.slice(0, after.index);
  }
  return { group: group.replace(EDGES, ''), nth };
}

const isOwnNumber = (before: string): boolean => new RegExp(`${GROUP_WORDS.source}$`, 'u').test(plain(before));

/** `Novices` and `novice` are one group, `Ä` and `A` are two: of a letter alone the dots are all there is. */
const sameName = (name: string): string =>
  name.normalize('NFC').length === 1 ? name.normalize('NFC').toLowerCase() : plain(name).replace(/s(?= |$)/g, '');

/** Groups in order of coming, each with a short key that stays. */
export class GroupNames {
  readonly #groups = new Map<string, string>();

  constructor(known: readonly Group[]) {
    for (const { key, name } of known) this.#groups.set(key, name);
  }

  /** A key written in front of the sessions: `N1 Novice`. */
  said(key: string, name: string): void {
    const before = this.#groups.get(key);
    if (before === undefined || before === key) this.#groups.set(key, name || key);
  }

  keyOf(name: string): string {
    const known = [...this.#groups].find(([key, other]) => key === name || sameName(other) === sameName(name));
    if (known) return known[0];
    // Under its own letter nobody has a name yet: `N3` alone and `Novice` are one group.
    const isFree = (one: string) => !this.#groups.has(one) || this.#groups.get(one) === one;
    const key = keysFor(name).find(isFree) ?? `${name.charAt(0)}${this.#groups.size + 1}`;
    this.#groups.set(key, name);
    return key;
  }

  nameOf(key: string): string {
    return this.#groups.get(key) ?? key;
  }
}

/** From short to long: N, then NB of `Novice B`, then No. */
function* keysOf(name: string): Generator<string> {
  const words = [...name.matchAll(WORD)].map(([word]) => word);
  const own = words.length > 1 && GROUP_WORDS.test(plain(words[0]!)) ? words.slice(1) : words;
  const letters = own.join('').toUpperCase();
  if (/^\d/.test(letters)) yield `G${letters}`;
  else yield letters.charAt(0);
  if (own.length > 1) yield own.map((word) => (/^\d+$/.test(word) ? word : word.charAt(0).toUpperCase())).join('');
  for (let length = 2; length <= letters.length; length++) yield letters.slice(0, length);
}
const keysFor = (name: string): readonly string[] => [...keysOf(name)];

/** `N3`; with a figure at the key's end, `G1-3`. */
export const nameOfNth = (key: string, nth: number): string => (/\d$/.test(key) ? `${key}-${nth}` : `${key}${nth}`);

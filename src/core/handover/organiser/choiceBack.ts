/**
 * The organiser's own choice as it comes back, in a mail, a message or a table: names of files they were shown, names the camera gave, or
 * numbers of a contact sheet. What names no picture or two is said and left. Rule OG13.
 */
import type { Exposure } from '../../arrange/types.js';
import type { FrameId } from '../../ids.js';
import type { HandedSet } from './types.js';

export interface ChoiceBack {
  /** In the order they were named, each once. */
  readonly frames: readonly FrameId[];
  /** One sentence for each word that could be a picture and is none. */
  readonly left: readonly string[];
}

export interface KnownNames {
  readonly exposures: readonly Pick<Exposure, 'frameId' | 'path'>[];
  /** Names of finals, without ending. */
  readonly names: ReadonlyMap<FrameId, string>;
  /** What the numbers are of; null: numbers alone mean nothing. */
  readonly sheet: HandedSet | null;
}

/** `cells`: what stands between commas, semicolons, tabs and line ends. */
export function readChoice(cells: readonly string[], known: KnownNames): ChoiceBack {
  const find = finderOf(known);
  const frames = new Set<FrameId>();
  const left: string[] = [];
  for (const cell of cells) {
    const words = wordsOf(cell);
    for (const word of words) {
      const found = find(word);
      if (found.length === 1) frames.add(found[0]!);
      else if (found.length > 1) left.push(twoSentence(word, found.length));
      else if (looksLikeName(word, words.length === 1)) left.push(noneSentence(word, known));
    }
  }
  return { frames: [...frames], left };
}

/** A cell may hold a path, a name in quotes, several names, or a sentence around one. */
const wordsOf = (cell: string): readonly string[] =>
  cell
    .split(/[\s,;]+/)
    .map(
      (word) =>
        word
          .replace(/^["'(“„<#]+|["')”“>.:!?]+$/g, '')
          .split(/[\\/]/)
          .at(-1)!,
    )
    .filter((word) => word !== '');

const bare = (name: string): string => name.replace(/\.[A-Za-z0-9]{2,4}$/, '').toLowerCase();

function finderOf({ exposures, names, sheet }: KnownNames): (word: string) => readonly FrameId[] {
  const byName = new Map<string, Set<FrameId>>();
  const note = (name: string, frame: FrameId) => {
    const key = bare(name);
    byName.set(key, (byName.get(key) ?? new Set()).add(frame));
  };
  for (const [frame, name] of names) note(name, frame);
  for (const { frameId, path } of exposures) note(path.split('/').at(-1)!, frameId);
  const byNumber = new Map((sheet?.pictures ?? []).map(({ number, frameId }) => [String(number), frameId]));
  return (word) => {
    const numbered = byNumber.get(word.replace(/^0+(?=\d)/, ''));
    return [...(byName.get(bare(word)) ?? (numbered === undefined ? [] : [numbered]))];
  };
}

/** A digit alone in its cell was meant as a picture; in a sentence it is a number of something. */
const looksLikeName = (word: string, isAlone: boolean): boolean =>
  /\d{2}|\.jpe?g$/i.test(word) || (isAlone && /^\d$/.test(word));

const twoSentence = (word: string, count: number): string =>
  `Expected one picture named “${word}” but ${count} are. Ask for the longer name, with date and time in it.`;

function noneSentence(word: string, { sheet }: KnownNames): string {
  const numbers = sheet === null ? '' : ` or a number from 1 to ${sheet.pictures.length}`;
  return `Expected the name of a picture of this meeting${numbers} but got “${word}”. Ask which one is meant; the others are taken.`;
}

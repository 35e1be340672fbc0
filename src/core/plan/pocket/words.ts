/**
 * Words that stand in most pocket days, each as one of the bytes that text does not use (control characters), before the whole
 * is squeezed: so short a text has nothing that DEFLATE could point back to. The order is part of the format: a change of this
 * list is a new version of the code.
 */
import { decodeUtf8, encodeUtf8 } from './utf8.js';

const WORDS = [
  'Marshals first, always.',
  'Plugs in, drink each hour.',
  ', open track day',
  'track day',
  'Novice',
  'Inters',
  'Intermediate',
  'Fast',
  'behind the ',
  'service road',
  ' on the ',
  'the tunnel',
  'the bridge',
  ' leathers',
  ' helmet',
  ' plate',
  'no number',
  'second ',
  ' wall',
  'across ',
  'white',
  'black',
  'yellow',
  'orange',
  'green',
  'by the ',
  ' and ',
  'nose',
  ' back',
  ' not ',
  ', ',
] as const;

/** The escape before a control character that is meant. */
const MEANT = '\u0000';
const isControl = (letter: string): boolean => letter < ' ';
const BY_WORD: ReadonlyMap<string, string> = new Map(
  WORDS.map((word, index) => [word, String.fromCodePoint(index + 1)]),
);
/** Longest first; then a control character. */
const FOUND = new RegExp(
  `${[...WORDS]
    .sort((a, b) => b.length - a.length)
    .join('|')
    .replaceAll('.', '\\.')}|[\\u0000-\\u001f]`,
  'g',
);

export const encodeWords = (text: string): Uint8Array =>
  encodeUtf8(text.replace(FOUND, (found) => BY_WORD.get(found) ?? `${MEANT}${found}`));

/** Null where the bytes are not UTF-8 or end in an escape. */
export function decodeWords(bytes: Uint8Array): string | null {
  const written = decodeUtf8(bytes);
  if (written === null) return null;
  let text = '';
  let isMeant = false;
  for (const letter of written) {
    if (!isMeant && letter === MEANT) {
      isMeant = true;
      continue;
    }
    text += !isMeant && isControl(letter) ? WORDS[letter.codePointAt(0)! - 1]! : letter;
    isMeant = false;
  }
  return isMeant ? null : text;
}

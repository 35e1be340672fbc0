/** A word that acts: a button whose first letter is its key. Clicking or the letter decides; Enter never does. */
import type { ReactNode } from 'react';
import { useLetter } from './keyboard.js';
import { keyOf } from './sheetKeys.js';

export interface ActProps {
  readonly words: string;
  readonly run: () => void;
  /** `main` is the one thing to do here. */
  readonly kind?: 'main' | 'plain' | 'box';
  /** What follows from it; stands under the words. */
  readonly consequence?: ReactNode;
  readonly isOff?: boolean;
  /** Says why it is off; needed when `isOff`. */
  readonly why?: string;
}

export function Act({ words, run, kind = 'plain', consequence, isOff = false, why }: ActProps) {
  const letter = keyOf(words);
  useLetter(letter, run, !isOff);
  const spoken = (
    <>
      <u>{words.charAt(0)}</u>
      {words.slice(1)}
    </>
  );
  if (isOff)
    return (
      <span className={`act off ${kind}`}>
        {words}
        {why && <span className="consequence">{why}</span>}
      </span>
    );
  return (
    <button type="button" className={`act ${kind}`} data-decides="" aria-keyshortcuts={letter} onClick={run}>
      <span className="act-words">{spoken}</span>
      {consequence !== undefined && <span className="consequence">{consequence}</span>}
    </button>
  );
}

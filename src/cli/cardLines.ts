/** What is said of a card when it is done: what was noticed, what was new, and whether it may be formatted. */
import type { CardProgress } from '../core/bringin/types.js';
import { counted, onOneLine } from './words.js';

/** Each thing once; everything that is missing is named, for mending one thing at a time costs an evening. */
export function cardLines(card: CardProgress): readonly string[] {
  const missing = missingOf(card);
  const noticed = [...(card.notes ?? []), ...card.troubles].filter((sentence) => !missing.includes(sentence));
  const lines = [...firstOf([...new Set(noticed)]), ...newLines(card), ...verdictLines(card, missing)];
  return lines.map((line) => onOneLine(`${card.card}: ${line}`));
}

const noticedAtMost = 20;

const firstOf = (sentences: readonly string[]): readonly string[] =>
  sentences.length <= noticedAtMost
    ? sentences
    : [...sentences.slice(0, noticedAtMost), `… and ${sentences.length - noticedAtMost} more like these.`];

export const missingOf = ({ verdict }: CardProgress): readonly string[] =>
  verdict?.kind === 'keep' ? [...new Set(verdict.missing)] : [];

function newLines({ alreadyHere = 0, filesTotal }: CardProgress): readonly string[] {
  if (alreadyHere === 0) return [];
  if (filesTotal > 0) return [`${counted(filesTotal, 'file')} to copy; ${alreadyHere} were here already.`];
  return [
    `${alreadyHere === 1 ? 'Its one file was' : `All ${alreadyHere} files were`} here already; nothing was copied.`,
  ];
}

function verdictLines({ verdict }: CardProgress, missing: readonly string[]): readonly string[] {
  if (verdict === null) return ['Not finished; keep the card as it is and bring it in again.'];
  if (missing.length < 2) return [verdict.sentence];
  return [`Keep this card as it is, for ${missing.length} reasons:`, ...missing.map((sentence) => `– ${sentence}`)];
}

/** Cards as they come in: verdict first, then what is missing, then the copies. */
import type { CardProgress, Fill, FormatVerdict } from '../../core/bringin/types.js';
import type { RememberedCard } from '../../host/day/rememberedCards.js';
import type { Day } from '../../host/day/types.js';
import type { CardsView, CardView } from '../types.js';
import { clockOf, dateOf, timeLeftWords, wallIn } from './wallTime.js';
import { counted } from './words.js';

const share = (part: number, whole: number): number => (whole > 0 ? Math.min(1, part / whole) : 0);

const sentenceOf = (card: CardProgress): string => {
  if (card.verdict) return card.verdict.sentence;
  const left = card.secondsLeft === null ? '' : `; ${timeLeftWords(card.secondsLeft)}`;
  switch (card.state) {
    case 'listing':
      return 'The card is being listed.';
    case 'copying':
      return `${card.filesRead.toLocaleString('en-GB')} of ${counted(card.filesTotal, 'file')} read${left}.`;
    case 'stopped':
      return 'Bringing in was stopped. Put the card in again: it goes on where it was.';
    case 'finished':
      return 'All files were read; what may be said of the card is not known yet.';
  }
};

/** The word “keep” stands beside it, large. */
const KEEP_WORDS = /^Keep this card as it is\. /;

/** A fill's folder is its card's name with a piece of the fill's id behind; people know the card. */
const cardNameOf = (folder: string): string => folder.replace(/-[0-9a-f]{8}$/, '');

/** The shortest ends of paths that tell the disks apart: where both folders have one name, the name of what holds it. */
function shortNames(disks: readonly string[]): ReadonlyMap<string, string> {
  const parts = disks.map((disk) => disk.split(/[\\/]/).filter((part) => part !== ''));
  const depth = Math.max(0, ...parts.map((one) => one.length));
  for (let back = 1; back <= depth; back++) {
    const names = parts.map((one) => one.at(-back) ?? '');
    if (new Set(names).size === disks.length) return new Map(disks.map((disk, i) => [disk, names[i]!]));
  }
  return new Map(disks.map((disk) => [disk, disk]));
}

const shortenedBy =
  (names: ReadonlyMap<string, string>) =>
  (sentence: string): string =>
    [...names].reduce((text, [disk, name]) => text.replaceAll(disk, name), sentence);

function progressView(card: CardProgress): CardView {
  const names = shortNames(card.copies.map((copy) => copy.disk));
  const shortened = shortenedBy(names);
  const sentence = sentenceOf(card).replace(KEEP_WORDS, '');
  const missing = card.verdict?.kind === 'keep' ? card.verdict.missing : [];
  const here = card.alreadyHere ?? 0;
  return {
    // Until it is listed a card has no fill, and several may be waiting.
    id: card.fill === '' ? card.card : card.fill,
    source: card.card,
    name: cardNameOf(card.folder),
    files: card.filesTotal + here,
    state: card.state,
    verdict: wordOf(card.verdict),
    sentence: shortened(sentence),
    missing: missing.filter((one) => one !== sentence).map(shortened),
    troubles: card.troubles,
    notes: [
      ...(card.filesTotal === 0 && here > 0 ? ['All of it was here already; nothing was copied.'] : []),
      ...(card.notes ?? []).map(shortened),
    ],
    // Where nothing is copied no bar could ever fill.
    copies: (card.filesTotal === 0 && here > 0 ? [] : card.copies).map((copy) => ({
      disk: names.get(copy.disk) ?? copy.disk,
      written: share(copy.bytesWritten, card.bytesTotal),
      readBack: share(Math.min(copy.bytesReadBack, copy.bytesWritten), card.bytesTotal),
    })),
    secondsLeft: card.secondsLeft,
  };
}

function earlierView(fill: Fill, said: RememberedCard | undefined, zone: string): CardView {
  const shortened = shortenedBy(shortNames(said?.disks ?? []));
  const brought = `Brought in earlier, first at ${clockOf(wallIn(zone, fill.firstBroughtIn))}; its manifest vouches for ${counted(fill.files.length, 'file')}.`;
  const missing = said?.verdict.kind === 'keep' ? said.verdict.missing : [];
  const sentence = said?.verdict.sentence.replace(KEEP_WORDS, '');
  return {
    id: fill.id,
    name: cardNameOf(fill.folder),
    files: fill.files.length,
    state: 'earlier',
    verdict: said === undefined ? 'not asked' : wordOf(said.verdict),
    sentence:
      said === undefined
        ? brought
        : `Said at ${clockOf(wallIn(zone, said.at))} on ${dateOf(wallIn(zone, said.at))}: ${shortened(sentence ?? '')} If the card was used since, put it in again first.`,
    missing: missing.filter((one) => one !== sentence).map(shortened),
    troubles: said?.troubles ?? [],
    notes: [],
    copies: [],
    secondsLeft: null,
  };
}

const wordOf = (verdict: FormatVerdict | null): CardView['verdict'] =>
  verdict?.kind === 'may-be-formatted' ? 'format' : 'keep';

/** Wrong ones first, then those under way, then the safe ones, then earlier ones. */
const urgencyOf = (card: CardView): number =>
  card.troubles.length > 0 ? 0 : card.verdict === 'keep' ? 1 : card.verdict === 'format' ? 2 : 3;

export function cardViews(day: Day): readonly CardView[] {
  const { fills, about } = day.state();
  const current = day.cards();
  const said = day.rememberedCards();
  const earlier = fills.filter((fill) => !current.some((card) => card.fill === fill.id));
  return [
    ...current.map(progressView),
    ...earlier.map((fill) => earlierView(fill, said.get(fill.id), about.zone)),
  ].sort((a, b) => urgencyOf(a) - urgencyOf(b) || a.name.localeCompare(b.name));
}

/** One line a card in trouble, verdict first. */
export const urgentLines = (cards: readonly CardView[]): readonly string[] =>
  cards
    .filter((card) => card.troubles.length > 0 && card.verdict !== 'format')
    .map((card) => `${card.name}: keep the card, and don’t format it.`);

export const cardsView = (day: Day): CardsView => {
  const cards = cardViews(day);
  return { asOf: day.state().asOf, cards, urgent: urgentLines(cards) };
};

/** Where sessions may meet: wide gaps, dividers, and where a person said so. */
import type { Decision } from '../../log/types.js';
import type { Cut, Divider, Shot } from './evidence.js';

export type BoundaryDecision = Extract<Decision, { kind: 'boundary' }>;

/** Shorter gaps without a divider are never a change of session: riders come round every few seconds. */
const NARROWEST_GAP_MS = 40_000;
/** More cuts than this only cost time; the narrowest gaps go first. */
const MOST_GAP_CUTS_PER_HOUR = 30;
/** "No border here" holds for the nearest cut within this reach. */
const WORD_REACH_MS = 90_000;

export function findCuts(
  shots: readonly Shot[],
  dividers: readonly Divider[],
  words: readonly BoundaryDecision[],
): readonly Cut[] {
  const count = shots.length;
  const dividersAt = new Map<number, Divider[]>();
  for (const divider of dividers) {
    const position = positionOf(shots, divider.wall);
    const list = dividersAt.get(position);
    if (list === undefined) dividersAt.set(position, [divider]);
    else list.push(divider);
  }
  const wordsAt = new Map<number, BoundaryDecision>();
  for (const word of words) wordsAt.set(positionOfWord(shots, word), word);
  const positions = new Set([0, count, ...dividersAt.keys(), ...wordsAt.keys(), ...widestGaps(shots)]);
  return [...positions]
    .sort((a, b) => a - b)
    .map((position) => ({
      position,
      dividers: dividersAt.get(position) ?? [],
      gapMs: position === 0 || position === count ? 0 : shots[position]!.wall - shots[position - 1]!.wall,
      word: wordsAt.get(position)?.is ?? null,
      wordAt: wordsAt.get(position)?.at ?? null,
    }));
}

/** How many pictures were taken before a moment. */
export function positionOf(shots: readonly Shot[], wall: number): number {
  let low = 0;
  let high = shots.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (shots[middle]!.wall < wall) low = middle + 1;
    else high = middle;
  }
  return low;
}

function positionOfWord(shots: readonly Shot[], word: BoundaryDecision): number {
  const position = positionOf(shots, word.at);
  if (word.is === 'here') return position;
  const gapAt = (p: number): number => (p <= 0 || p >= shots.length ? -1 : shots[p]!.wall - shots[p - 1]!.wall);
  let best = position;
  for (let p = position - 1; p > 0 && word.at - shots[p]!.wall < WORD_REACH_MS; p--)
    if (gapAt(p) > gapAt(best)) best = p;
  for (let p = position + 1; p < shots.length && shots[p - 1]!.wall - word.at < WORD_REACH_MS; p++)
    if (gapAt(p) > gapAt(best)) best = p;
  return best;
}

function widestGaps(shots: readonly Shot[]): readonly number[] {
  const gaps: { position: number; gapMs: number }[] = [];
  const hours = new Set<number>();
  for (let i = 0; i < shots.length; i++) {
    hours.add(Math.floor(shots[i]!.wall / 3_600_000));
    if (i === 0) continue;
    const gapMs = shots[i]!.wall - shots[i - 1]!.wall;
    if (gapMs >= NARROWEST_GAP_MS) gaps.push({ position: i, gapMs });
  }
  gaps.sort((a, b) => b.gapMs - a.gapMs || a.position - b.position);
  return gaps.slice(0, MOST_GAP_CUTS_PER_HOUR * hours.size).map((gap) => gap.position);
}

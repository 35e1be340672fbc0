/** Where things stand on the day line: wall times to shares of its width, counts to a skyline. */
import type { WallMs } from '../../core/units.js';
import type { DayLineView } from '../../server/types.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

type Stretch = Pick<DayLineView, 'from' | 'to'>;

/** Percent of the line's width, held within the line. */
export const percentAt = ({ from, to }: Stretch, wall: number): number =>
  Math.min(100, Math.max(0, ((wall - from) / (to - from)) * 100));

export const widthPercent = (line: Stretch, from: number, to: number): number =>
  percentAt(line, to) - percentAt(line, from);

export interface Hour {
  readonly label: string;
  readonly percent: number;
}

export const hoursOf = (line: Stretch): readonly Hour[] => {
  const count = Math.round((line.to - line.from) / HOUR_MS);
  return Array.from({ length: count }, (_, i) => {
    const wall = line.from + i * HOUR_MS;
    return { label: String(new Date(wall).getUTCHours()).padStart(2, '0'), percent: percentAt(line, wall) };
  });
};

/** Height of a minute's frames as a share of the skyline: the square root, so that quiet minutes stay visible. */
export const heightOf = (count: number, most: number): number => (count === 0 ? 0 : Math.sqrt(count / most));

/**
 * One path of bars in a box of `counts.length` × 100, ground at 100. `below` lifts a bar onto another count, so that
 * frames not yet measured stand on those that are.
 */
export function skylinePath(counts: readonly number[], most: number, below?: readonly number[]): string {
  return counts
    .map((count, minute) => {
      if (count === 0) return '';
      const under = below?.[minute] ?? 0;
      const top = 100 - heightOf(count + under, most) * 100;
      const foot = 100 - heightOf(under, most) * 100;
      return `M${minute + 0.12} ${foot.toFixed(1)}V${top.toFixed(1)}H${minute + 0.88}V${foot.toFixed(1)}Z`;
    })
    .join('');
}

/** Half the width of the gap that a divider leaves in the ground line. */
const GAP_MINUTES = 1.1;

/** The ground line, cut where a divider is, in minutes from the line's start. */
export function groundSegments(line: Stretch, dividers: readonly WallMs[]): readonly (readonly [number, number])[] {
  const length = (line.to - line.from) / MINUTE_MS;
  const cuts = dividers.map((wall) => (wall - line.from) / MINUTE_MS).sort((a, b) => a - b);
  const segments: [number, number][] = [];
  let start = 0;
  for (const cut of cuts) {
    if (cut - GAP_MINUTES > start) segments.push([start, cut - GAP_MINUTES]);
    start = Math.max(start, cut + GAP_MINUTES);
  }
  if (start < length) segments.push([start, length]);
  return segments;
}

export const clockOf = (wall: number): string => new Date(wall).toISOString().slice(11, 16);
export const clockWithTenthsOf = (wall: number): string => new Date(wall).toISOString().slice(11, 21);

/** `1:52.5`, a lap's length. */
export const lapOf = (ms: number): string => {
  const minutes = Math.floor(ms / MINUTE_MS);
  const seconds = (ms - minutes * MINUTE_MS) / 1000;
  return `${minutes}:${seconds.toFixed(1).padStart(4, '0')}`;
};

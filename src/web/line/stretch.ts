/** A stretch of the day, dragged out on the day line: its ends in wall time, its word in the address. */
import type { WallMs } from '../../core/units.js';
import { wallMsOf } from '../../core/units.js';
import type { DayLineView } from '../../server/types.js';
import { clockOf } from './lineGeometry.js';

export interface Stretch {
  readonly from: WallMs;
  readonly to: WallMs;
}

type Line = Pick<DayLineView, 'from' | 'to'>;

const MINUTE_MS = 60_000;
/** Nobody means less than this; a hand that shook has only clicked. */
const LEAST_MS = MINUTE_MS;
/** Ends stick to the edges of sessions from this near, as a share of the line: about a finger's width on a phone. */
const STICK_SHARE = 0.008;

/** The minute at a share of the line, 0–1, or the edge of a session close by. */
export function wallAt(line: Line & Pick<DayLineView, 'sessions'>, share: number): WallMs {
  const length = line.to - line.from;
  const wall = line.from + Math.min(1, Math.max(0, share)) * length;
  const minute = Math.round(wall / MINUTE_MS) * MINUTE_MS;
  const edges = line.sessions.flatMap((session) => [
    Math.floor(session.start / MINUTE_MS) * MINUTE_MS,
    Math.ceil(session.end / MINUTE_MS) * MINUTE_MS,
  ]);
  const near = edges.filter((edge) => Math.abs(edge - wall) <= STICK_SHARE * length);
  return wallMsOf(near.sort((a, b) => Math.abs(a - wall) - Math.abs(b - wall))[0] ?? minute);
}

/** In order, within the line; null where it is too short to be meant. */
export function stretchOf(line: Line, a: number, b: number): Stretch | null {
  const from = Math.max(line.from, Math.min(a, b));
  const to = Math.min(line.to, Math.max(a, b));
  return to - from < LEAST_MS ? null : { from: wallMsOf(from), to: wallMsOf(to) };
}

/** One end moved by some minutes; it stops a minute before the other end and at the line's own ends. */
export function moveEnd(line: Line, { from, to }: Stretch, end: 'from' | 'to', minutes: number): Stretch {
  const moved = (end === 'from' ? from : to) + minutes * MINUTE_MS;
  return end === 'from'
    ? { from: wallMsOf(Math.min(to - LEAST_MS, Math.max(line.from, moved))), to }
    : { from, to: wallMsOf(Math.max(from + LEAST_MS, Math.min(line.to, moved))) };
}

export const overlaps = (stretch: Stretch, one: { readonly start: number; readonly end: number }): boolean =>
  one.start < stretch.to && one.end > stretch.from;

export const isWithin = ({ from, to }: Stretch, wall: number): boolean => wall >= from && wall < to;

/** `10:25-10:49`, as it stands in the address. A stretch to the line's end at midnight is `24:00`. */
export const stretchText = ({ from, to }: Stretch): string => {
  const end = clockOf(to);
  return `${clockOf(from)}-${end === '00:00' ? '24:00' : end}`;
};

export const stretchWords = (stretch: Stretch): string => stretchText(stretch).replace('-', ' to ');

/** A stretch of the drawn day from its word in the address; null for anything else. */
export function readStretch(line: Line & Pick<DayLineView, 'date'>, text: string | undefined): Stretch | null {
  const match = /^(\d{2}):(\d{2})-(\d{2}):(\d{2})$/.exec(text ?? '');
  if (!match) return null;
  const [h1, m1, h2, m2] = match.slice(1).map(Number) as [number, number, number, number];
  const midnight = Date.parse(`${line.date}T00:00:00Z`);
  const at = (hour: number, minute: number) => midnight + (hour * 60 + minute) * MINUTE_MS;
  return h1 > 23 || h2 > 24 || m1 > 59 || m2 > 59 ? null : stretchOf(line, at(h1, m1), at(h2, m2));
}

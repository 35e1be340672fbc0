/**
 * Where a disk cannot be read past the memory, a copy is proven by reading it after the computer was started anew:
 * its memory is then empty of what was written. A note on the copy says in which start it was made.
 */
import { readFileSync } from 'node:fs';
import { uptime } from 'node:os';

/** Clocks are set and round; two starts lie further apart than this. */
const sameStartMinutes = 10;

/** Linux names each start; elsewhere the minute of it serves. */
function currentStart(): string {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').slice(0, 8);
  } catch {
    return `t${Math.round((Date.now() / 1000 - uptime()) / 60)}`;
  }
}

export const noteWithStart = (why: string, start = currentStart()): string => `${why}; copied in start ${start}`;

/** True when the note was made before the computer was last started. */
export function isFromEarlierStart(note: string, now = currentStart()): boolean {
  const then = /; copied in start (\S+)$/.exec(note)?.[1];
  if (then === undefined || then === now) return false;
  const [a, b] = [minuteOf(then), minuteOf(now)];
  return a === null || b === null || Math.abs(a - b) > sameStartMinutes;
}

const minuteOf = (start: string): number | null => (/^t\d+$/.test(start) ? Number(start.slice(1)) : null);

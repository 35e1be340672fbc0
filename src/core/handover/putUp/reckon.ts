/** What a plan costs: bytes, and time at a rate somebody says. A reckoning beforehand, not a measurement. */
import type { Part, PutUpPlan, Step } from './types.js';

export interface Line {
  readonly bitsPerSecond: number;
  /** There and back. */
  readonly roundTripSeconds: number;
  /** So many files at once. */
  readonly atOnce: number;
  /** Said to and fro for one file besides its bytes: names, headers, receipts. */
  readonly bytesPerFile: number;
  readonly roundTripsPerFile: number;
}

/**
 * A phone's line at 2 Mbit/s. Over SFTP a file takes five turns (open, write, look, close, rename) and under 1 kB
 * beside its bytes; over S3 one turn and about 1.5 kB of signed headers. Reckoned with the worse of either.
 */
export const SLOW_LINE: Line = {
  bitsPerSecond: 2e6,
  roundTripSeconds: 0.06,
  atOnce: 6,
  bytesPerFile: 1500,
  roundTripsPerFile: 5,
};

export interface Cost {
  readonly puts: number;
  readonly removals: number;
  readonly bytes: number;
  readonly seconds: number;
}

export function costOf(steps: readonly Step[], line: Line): Cost {
  const puts = steps.filter((step) => step.kind !== 'remove').length;
  const bytes = steps.reduce((sum, step) => sum + (step.kind === 'put' ? step.file.bytes : 0), 0);
  const onTheLine = ((bytes + steps.length * line.bytesPerFile) * 8) / line.bitsPerSecond;
  const turns = Math.ceil(steps.length / line.atOnce) * line.roundTripsPerFile * line.roundTripSeconds;
  // Turns of one file pass while another's bytes are on the way: the longer of the two counts, and one file's turns.
  const seconds = steps.length === 0 ? 0 : Math.max(onTheLine, turns) + line.roundTripsPerFile * line.roundTripSeconds;
  return { puts, removals: steps.length - puts, bytes, seconds };
}

/** Until a rider who opens the entry finds a gallery; null where the plan puts none up. */
export function untilFirstEntry(plan: PutUpPlan, line: Line): Cost | null {
  const last = plan.parts.findIndex(({ name }) => name === 'first entry' || name === 'entry');
  return last < 0 ? null : sumOf(plan.parts.slice(0, last + 1), line);
}

export const costOfPlan = (plan: PutUpPlan, line: Line): Cost => sumOf(plan.parts, line);

function sumOf(parts: readonly Part[], line: Line): Cost {
  return parts
    .map(({ steps }) => costOf(steps, line))
    .reduce(
      (a, b) => ({
        puts: a.puts + b.puts,
        removals: a.removals + b.removals,
        bytes: a.bytes + b.bytes,
        seconds: a.seconds + b.seconds,
      }),
      { puts: 0, removals: 0, bytes: 0, seconds: 0 },
    );
}

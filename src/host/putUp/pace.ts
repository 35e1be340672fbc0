/** How far a run is, and how long it will still take by how it went lately. */
import type { Step } from '../../core/handover/putUp/index.js';
import { SLOW_LINE } from '../../core/handover/putUp/index.js';

export interface Pace {
  done(step: Step): void;
  standing(): {
    readonly done: number;
    readonly total: number;
    readonly bytesDone: number;
    readonly bytesTotal: number;
    readonly secondsLeft: number | null;
  };
}

const LEAST_SEEN = 8;
/** So many steps back the rate is taken: a line that gets worse is told within a minute. */
const LATELY = 40;

export function paceOf(steps: readonly Step[], now: () => number = () => performance.now()): Pace {
  const bytesOf = (step: Step): number => (step.kind === 'put' ? step.file.bytes : 0);
  const bytesTotal = steps.reduce((sum, step) => sum + bytesOf(step), 0);
  let [done, bytesDone] = [0, 0];
  const marks: { readonly at: number; readonly weight: number }[] = [{ at: now(), weight: 0 }];
  const weight = (): number => bytesDone + done * SLOW_LINE.bytesPerFile;
  return {
    done(step) {
      done += 1;
      bytesDone += bytesOf(step);
      marks.push({ at: now(), weight: weight() });
      if (marks.length > LATELY) marks.shift();
    },
    standing() {
      const [from, to] = [marks[0]!, marks.at(-1)!];
      const rate = (to.weight - from.weight) / (to.at - from.at);
      const left = bytesTotal + steps.length * SLOW_LINE.bytesPerFile - weight();
      const isKnown = done >= LEAST_SEEN && rate > 0;
      return { done, total: steps.length, bytesDone, bytesTotal, secondsLeft: isKnown ? left / rate / 1000 : null };
    },
  };
}

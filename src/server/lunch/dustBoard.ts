/** Dust on each body's sensor, looked for in the background: seconds of work, done anew only where a body has other dividers. */
import type { BodyKey } from '../../core/ids.js';
import type { DustFound } from '../../core/measure/dust/index.js';
import type { Day } from '../../host/day/types.js';
import type { KitLooker } from '../../host/kit/index.js';
import { dustFilesOf, framesForDust } from '../../host/measure/dustOfBodies.js';

export type DustNow =
  | { readonly kind: 'looking' }
  | { readonly kind: 'cannot-tell'; readonly reason: string }
  | Extract<DustFound, { readonly kind: 'looked' }>;

export interface DustBoard {
  /** What is known now; what is not is looked for, and told of when it is done. */
  ofBodies(): readonly { readonly body: BodyKey; readonly found: DustNow }[];
}

const WAITS = 'It is looked for when everything that came in is measured.';

export function createDustBoard(day: Day, looker: KitLooker, tell: () => void): DustBoard {
  const known = new Map<BodyKey, { readonly of: string; readonly found: DustNow }>();

  const lookAt = (body: BodyKey, frames: Parameters<typeof dustFilesOf>[0], of: string): DustNow => {
    const put = (found: DustNow): void => {
      // A later look may have been begun meanwhile.
      if (known.get(body)?.of !== of) return;
      known.set(body, { of, found });
      tell();
    };
    known.set(body, { of, found: { kind: 'looking' } });
    const files = dustFilesOf(frames, (frame) => day.original(frame));
    looker.run({ kind: 'dust', files }).then(
      (answer) => put(answer.kind === 'dust' ? answer.found : cannotTell(answer)),
      (error: Error) => put({ kind: 'cannot-tell', reason: error.message }),
    );
    return { kind: 'looking' };
  };

  return {
    ofBodies() {
      const { arrangement, toMeasure } = day.state();
      return [...framesForDust(arrangement.exposures)].map(([body, frames]) => {
        const of = frames.join();
        const before = known.get(body);
        if (before?.of === of) return { body, found: before.found };
        // While frames are measured dividers come by the second: each would begin a look of its own.
        if (toMeasure.left > 0) return { body, found: before?.found ?? { kind: 'cannot-tell', reason: WAITS } };
        return { body, found: lookAt(body, frames, of) };
      });
    },
  };
}

const cannotTell = (answer: { readonly kind: string; readonly sentence?: string }): DustNow => ({
  kind: 'cannot-tell',
  reason: `The frames could not be looked at: ${answer.sentence ?? answer.kind}.`,
});

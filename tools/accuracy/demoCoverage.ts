/** Whether what coverage calls sharp is what the invented meeting's renderer drew sharp. */
import type { TrueFrame } from '../../demo/truthTypes.js';
import { type Judgements, judgeBikes } from '../../src/core/cover/index.js';
import type { FrameId } from '../../src/core/ids.js';
import type { DayState } from '../../src/host/day/index.js';
import type { Figures } from '../figures.js';

interface KnownFrame {
  readonly frame: TrueFrame;
  readonly frameId: FrameId;
}

type Kind = Judgements extends ReadonlyMap<string, infer J extends { kind: string }> ? J['kind'] : never;

/** Every bike of every pass whose frame is known; a blurred frame blurs all of its bikes. */
export function demoCoverage(
  { arrangement, pixels }: Pick<DayState, 'arrangement' | 'pixels'>,
  known: readonly KnownFrame[],
): { readonly row: string; readonly figures: Figures } {
  const blurOf = new Map(known.map(({ frame, frameId }) => [frameId as string, frame.blur]));
  const sharp = new Map<Kind, number>();
  const blurred = new Map<Kind, number>();
  for (const [key, { kind }] of judgeBikes(arrangement, pixels)) {
    const blur = blurOf.get(key.slice(0, key.lastIndexOf(':'))) ?? null;
    if (blur === null) continue;
    const counts = blur === 'sharp' ? sharp : blurred;
    counts.set(kind, (counts.get(kind) ?? 0) + 1);
  }
  const wrong = (sharp.get('soft') ?? 0) + (blurred.get('good') ?? 0);
  return {
    row: `coverage: bikes drawn sharp are called ${wordsOf(sharp)}; drawn blurred ${wordsOf(blurred)}`,
    figures: {
      'demo.coverage.wrong': {
        value: wrong,
        unit: 'bikes',
        better: 'lower',
        note: `sharp called soft, or blurred called good, of ${totalOf(sharp) + totalOf(blurred)}`,
      },
    },
  };
}

const KINDS: readonly Kind[] = ['good', 'soft', 'unsure', 'cut'];
const wordsOf = (counts: ReadonlyMap<Kind, number>): string =>
  KINDS.flatMap((kind) => (counts.has(kind) ? [`${kind} ${counts.get(kind)}`] : [])).join(', ');
const totalOf = (counts: ReadonlyMap<Kind, number>): number => [...counts.values()].reduce((sum, one) => sum + one, 0);

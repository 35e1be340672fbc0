/**
 * Frames judged against each other: on pairs whose better one is known, how often the judge's order is the truth's. Rendered pairs
 * are of seeds that nothing was tuned on; the truth is what the renderer was asked for. Real pairs where there are some.
 * The first run draws 224 frames, minutes; they are kept with the system's temporary files.
 */
import { existsSync } from 'node:fs';
import type { Shot } from '../../demo/render/frame.js';
import { type Judged, tellBlurFrom } from '../../src/core/judge/index.js';
import { openVision, type Vision } from '../../src/host/vision/index.js';
import type { Figures } from '../figures.js';
import type { Change } from './judge/bursts.js';
import { judgeAt } from './judge/judgeAt.js';
import { leanRow, sideRow } from './judge/leanAndSide.js';
import { type FrameName, JUDGE_SEEDS, judgedBursts, pairsOf } from './judge/pairs.js';
import { drawn, shotOf } from './judge/pictures.js';
import { type Agreed, isFirstBetter, realPairs } from './judge/realPairs.js';
import { riderRows } from './judge/riders.js';

const keyOf = ({ burst, change }: FrameName): string => `${burst.id} ${change}`;

interface RenderedPair extends Agreed {
  readonly isBarely: boolean;
  /** Whether movement and missed focus are told apart; null where neither was asked of the renderer. */
  readonly isTold: boolean | null;
  /** In words, for the list of misses. */
  readonly name: string;
}

async function renderedPairs(
  vision: Vision,
  seeds: keyof typeof JUDGE_SEEDS,
): Promise<{ readonly pairs: readonly RenderedPair[]; readonly lean: string }> {
  const pairs = pairsOf(judgedBursts(seeds));
  const judged = new Map<string, Judged | null>();
  const leaning: { shot: Shot; judged: Judged | null }[] = [];
  for (const frame of pairs.flatMap(({ better, worse }) => [better, worse])) {
    if (judged.has(keyOf(frame))) continue;
    const { image, box } = await drawn(frame);
    const one = await judgeAt(vision, image, box);
    judged.set(keyOf(frame), one);
    if (LEAN_OF.has(frame.change)) leaning.push({ shot: await shotOf(frame), judged: one });
  }
  const agreed = pairs.map(({ better, worse, about, isBarely, isSameBurst }) => ({
    about: `renders, ${about}${isSameBurst ? '' : ', another rider'}`,
    isBarely,
    isRight: isFirstBetter(judged.get(keyOf(better)) ?? null, judged.get(keyOf(worse)) ?? null),
    isTold:
      better.change === 'none' && isSameBurst
        ? isTold(judged.get(keyOf(better)), judged.get(keyOf(worse)), about)
        : null,
    name: `${keyOf(better)} > ${keyOf(worse)}`,
  }));
  return { pairs: agreed, lean: leanRow(leaning) };
}

/** Nothing was done to the bike itself. */
const LEAN_OF: ReadonlySet<Change> = new Set(['none', 'turned', 'small1']);

const BLURS: Readonly<Record<string, string>> = { focus: 'missed-focus', movement: 'moved' };

function isTold(better: Judged | null | undefined, worse: Judged | null | undefined, about: string): boolean | null {
  const expected = BLURS[about];
  if (expected === undefined) return null;
  if (better?.focus.kind !== 'focus' || worse?.focus.kind !== 'focus') return false;
  return tellBlurFrom(worse.focus.fineness, better.focus.fineness).kind === expected;
}

export async function judgeAccuracy(
  data: string,
): Promise<{ readonly rows: readonly string[]; readonly figures: Figures }> {
  const vision = await openVision();
  const { pairs: rendered, lean } = await renderedPairs(vision, 'reported');
  const real = existsSync(data) ? await realPairs(vision, data) : [];
  const barely = rendered.filter(({ isBarely }) => isBarely);
  const all = [...rendered, ...real];
  const told = rendered.flatMap(({ isTold }) => (isTold === null ? [] : [{ about: '', isRight: isTold }]));
  return {
    rows: [
      ...tally(all),
      `rendered pairs ${ratio(rendered)}, seeds ${JUDGE_SEEDS.reported.join(', ')}; of them by one barely visible step ${ratio(barely)}`,
      `movement told from missed focus, by direction, at its first visible step: ${ratio(told)}`,
      lean,
      await sideRow(data),
      ...(await riderRows(vision, data, 'reported')),
      real.length > 0 ? `real pairs ${ratio(real)}` : `real pairs SKIPPED: none in ${data}`,
      ...rendered.filter(({ isRight }) => !isRight).map(({ about, name }) => `missed: ${about}: ${name}`),
    ],
    figures: {
      'judge.agreement': {
        value: shareRight(all),
        unit: 'of 1',
        better: 'higher',
        note: `${ratio(rendered)} rendered, ${barely.length} of them by one barely visible step; ${ratio(real)} real`,
      },
    },
  };
}

const right = (pairs: readonly Agreed[]): number => pairs.filter(({ isRight }) => isRight).length;
const shareRight = (pairs: readonly Agreed[]): number => right(pairs) / Math.max(1, pairs.length);
const ratio = (pairs: readonly Agreed[]): string => `${right(pairs)} of ${pairs.length}`;

function tally(pairs: readonly Agreed[]): readonly string[] {
  const kinds = [...new Set(pairs.map(({ about }) => about))];
  return kinds.map((kind) => `${kind.padEnd(36)} ${ratio(pairs.filter(({ about }) => about === kind))}`);
}

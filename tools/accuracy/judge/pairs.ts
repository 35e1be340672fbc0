/**
 * Pairs of rendered frames whose better one is known: same burst, or same spot and another rider. Pairs that differ by one
 * barely visible step are marked: half a pixel of blur at 100 %, a tyre's edge out of the picture, a post a hand wider.
 */
import { type Burst, burstsOf, type Change, canTurn, comesTowards } from './bursts.js';

export interface FrameName {
  readonly burst: Burst;
  readonly change: Change;
}

export interface JudgePair {
  readonly better: FrameName;
  readonly worse: FrameName;
  /** What differs. */
  readonly about: 'focus' | 'movement' | 'cut' | 'in front' | 'other bike' | 'bright parts' | 'size' | 'going away';
  readonly isBarely: boolean;
  readonly isSameBurst: boolean;
}

/** Whoever tunes the judge uses the first; figures are of the second alone. */
export const JUDGE_SEEDS = { tuning: [411], reported: [431, 432] } as const;
const BURSTS_A_SEED = 7;

export const judgedBursts = (of: keyof typeof JUDGE_SEEDS): readonly Burst[] =>
  JUDGE_SEEDS[of].flatMap((seed) => burstsOf(seed, BURSTS_A_SEED));

const STEPS: readonly (readonly [Change, Change, JudgePair['about'], 'barely' | 'plain'])[] = [
  ['none', 'soft1', 'focus', 'barely'],
  ['soft1', 'soft2', 'focus', 'barely'],
  ['none', 'moved1', 'movement', 'barely'],
  ['moved1', 'moved2', 'movement', 'barely'],
  ['none', 'cut1', 'cut', 'barely'],
  ['cut1', 'cut2', 'cut', 'barely'],
  ['none', 'post1', 'in front', 'barely'],
  ['post1', 'post2', 'in front', 'barely'],
  ['none', 'marshal', 'in front', 'plain'],
  ['none', 'other1', 'other bike', 'plain'],
  ['other1', 'other2', 'other bike', 'plain'],
  ['none', 'bright1', 'bright parts', 'barely'],
  ['bright1', 'bright2', 'bright parts', 'barely'],
  ['none', 'small1', 'size', 'barely'],
];

/** Worse frames of another rider at the same spot. */
const ACROSS: readonly (readonly [Change, JudgePair['about']])[] = [
  ['soft2', 'focus'],
  ['moved2', 'movement'],
  ['cut2', 'cut'],
];

export function pairsOf(bursts: readonly Burst[]): readonly JudgePair[] {
  return bursts.flatMap((burst, index): readonly JudgePair[] => {
    const stepped = STEPS.map(
      ([better, worse, about, step]): JudgePair => ({
        better: { burst, change: better },
        worse: { burst, change: worse },
        about,
        isBarely: step === 'barely',
        isSameBurst: true,
      }),
    );
    const turned: readonly Change[] = comesTowards(burst.base) ? ['none', 'turned'] : ['turned', 'none'];
    const away: JudgePair = {
      better: { burst, change: turned[0]! },
      worse: { burst, change: turned[1]! },
      about: 'going away',
      isBarely: false,
      isSameBurst: true,
    };
    const other = bursts.find((one, at) => at > index && one.spot === burst.spot && one.id !== burst.id);
    const across = ACROSS.map(
      ([change, about]): JudgePair => ({
        better: { burst, change: 'none' },
        worse: { burst: other!, change },
        about,
        isBarely: false,
        isSameBurst: false,
      }),
    );
    return [...stepped, ...(canTurn(burst.base) ? [away] : []), ...(other ? across : [])];
  });
}

/**
 * One order for frames that stand beside each other: of a burst, or of one spot, lens and shutter. Each judgement takes its share
 * of a frame's worth, against the best of those frames, and says so. The shares are this project's choice.
 */
import { AS_SHARP, type BlurSeen, tellBlurFrom } from './measureFineness.js';
import type { Fineness, Judged } from './types.js';

export interface Worth {
  /** Place in the list handed in. */
  readonly index: number;
  /** 0–1, among these frames alone. */
  readonly worth: number;
  readonly blur: BlurSeen | null;
  /** What each judgement leaves of it, 1 is nothing lost. */
  readonly left: Readonly<Record<'focus' | 'edge' | 'inFront' | 'bright' | 'size', number>>;
}

const WEIGHT = { focus: 0.9, size: 0.5 } as const;
const CUT = { least: 0.7, perShare: 0.2, perLost: 1.5 } as const;
const TIGHT_MARGIN = 0.02;
const POST = { least: 0.9, perShare: 1.2 } as const;
/** How much a nearer bike or person hides its box does not say well; what is left to see counts as size. */
const BIKE_ACROSS = 0.7;
const BRIGHT = { perShare: 2.5, most: 0.35 } as const;
const LEAST_LEFT = 0.05;

/** Best first; equal ones in the order they came. */
export function orderByWorth(frames: readonly Judged[]): readonly Worth[] {
  const best = bestFineness(frames);
  const largest = Math.max(...frames.map(({ size }) => size));
  const widest = Math.max(...frames.map(({ aspect }) => aspect));
  const leastBright = Math.min(...frames.map(({ bright }) => bright.share));
  return frames
    .map((judged, index): Worth => {
      const left = {
        focus: focusLeft(judged, best),
        edge: edgeLeft(judged, widest),
        inFront: inFrontLeft(judged),
        bright: 1 - Math.min(BRIGHT.most, BRIGHT.perShare * (judged.bright.share - leastBright)),
        size: largest > 0 ? Math.max(LEAST_LEFT, (judged.size / largest) ** WEIGHT.size) : 1,
      };
      const worth = left.focus * left.edge * left.inFront * left.bright * left.size;
      const blur = judged.focus.kind === 'focus' && best ? tellBlurFrom(judged.focus.fineness, best) : null;
      return { index, worth, blur, left };
    })
    .sort((a, b) => b.worth - a.worth || a.index - b.index);
}

function bestFineness(frames: readonly Judged[]): Fineness | null {
  const known = frames.flatMap(({ focus }) => (focus.kind === 'focus' ? [focus.fineness] : []));
  return known.sort((a, b) => b.overall - a.overall)[0] ?? null;
}

function focusLeft({ focus }: Judged, best: Fineness | null): number {
  if (focus.kind !== 'focus' || !best) return 1;
  const share = Math.min(1, focus.fineness.overall / (AS_SHARP * best.overall));
  return Math.max(LEAST_LEFT, share ** WEIGHT.focus);
}

/** How deep a bike is cut shows in how much narrower it is than the widest of these frames. */
function edgeLeft({ edge, aspect }: Judged, widest: number): number {
  if (edge.kind === 'whole') return edge.margin < TIGHT_MARGIN ? 0.9 + (0.1 * edge.margin) / TIGHT_MARGIN : 1;
  const lost = Math.min(0.3, Math.max(0, 1 - aspect / widest));
  return Math.max(LEAST_LEFT, CUT.least - CUT.perShare * edge.share - CUT.perLost * lost);
}

const inFrontLeft = ({ inFront }: Judged): number =>
  inFront.reduce(
    (left, { what, share }) => left * (what === 'post or person' ? POST.least - POST.perShare * share : BIKE_ACROSS),
    1,
  );

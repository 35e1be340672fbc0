/** How far a background is drawn out, beside the length of the bike. */
import type { Rung } from '../../core/plan/settings/types.js';

/** The bike's length is 60. */
export const MARK_PX = 60;

interface StreakMarkProps {
  readonly kind: Rung['kind'];
  readonly length: number;
  readonly wide?: number;
  /** Without the ground that the length is read on. */
  readonly isKey?: boolean;
}

/** A block is sure; slow is drawn in slanted strokes. */
export function StreakMark({ kind, length, wide = MARK_PX, isKey = false }: StreakMarkProps) {
  const long = Math.min(wide, length);
  const strokes = Array.from({ length: Math.max(1, Math.floor(long / 5)) }, (_, i) => `M${i * 5} 6l3 -6h2.4l-3 6z`);
  return (
    <svg className="streak-mark" width={wide} height="6" viewBox={`0 0 ${wide} 6`} aria-hidden="true">
      {!isKey && <path className="ground" d={`M0 5.5H${wide}M.5 2v4M${wide - 0.5} 2v4`} />}
      {kind === 'sure' ? <rect width={Math.max(1, long)} height="6" /> : <path d={strokes.join('')} />}
    </svg>
  );
}

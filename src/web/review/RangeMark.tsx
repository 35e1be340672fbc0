/** A dot with its range on a scale from nought: open where few stand behind it. */

export interface Mark {
  /** 0–1 of the scale. */
  readonly at: number;
  readonly from: number;
  readonly to: number;
  readonly isFew: boolean;
}

export const percent = (share: number): number => Math.round(100 * share);
const along = (share: number): string => `${(100 * Math.min(1, Math.max(0, share))).toFixed(2)}%`;

/** One line a mark, the first on top. */
export function RangeMark({ marks }: { readonly marks: readonly Mark[] }) {
  const height = 4 + 10 * marks.length;
  return (
    <svg className="range-mark" width="100%" height={height} aria-hidden="true">
      {[0, 0.5, 1].map((share) => (
        <line key={share} className="axis" x1={along(share)} x2={along(share)} y1="0" y2={height} />
      ))}
      {marks.map(({ at, from, to, isFew }, i) => {
        const y = 7 + 10 * i;
        return (
          // Of at most two marks, each in its own line.
          <g key={y} className={isFew ? 'few' : ''}>
            <line className="range" x1={along(from)} x2={along(to)} y1={y} y2={y} />
            <circle cx={along(at)} cy={y} r="3.4" />
          </g>
        );
      })}
    </svg>
  );
}

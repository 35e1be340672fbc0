/** Bars of one table of takings. The library that draws them comes when they are first wanted; until then their words stand. */
import { useEffect, useRef } from 'react';
import type { TakingsBarView } from '../../server/takings/types.js';
import { useWidth } from '../plan/useWidth.js';

const ROW_PX = 48;
const BAR_TOP_PX = 21;
const BAR_FOOT_PX = 19;

export function TakingsChart({ bars }: { readonly bars: readonly TakingsBarView[] }) {
  const [measured, width] = useWidth(400);
  const drawing = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let isLeft = false;
    void import('@observablehq/plot').then((Plot) => {
      if (isLeft || drawing.current === null) return;
      const rows = bars.map((bar, i) => ({ ...bar, i: String(i) }));
      const text = { y: 'i', fontSize: 13.5, fill: 'var(--ink)', dy: -ROW_PX / 2 + 9 } as const;
      const bar = { x: 'amount', y: 'i', insetTop: BAR_TOP_PX, insetBottom: BAR_FOOT_PX } as const;
      const chart = Plot.plot({
        width,
        height: ROW_PX * rows.length,
        margin: 0,
        x: { axis: null },
        y: { axis: null, domain: rows.map(({ i }) => i), padding: 0 },
        marks: [
          Plot.barX(
            rows.filter(({ isKnown }) => isKnown),
            { ...bar, fill: 'var(--ink)' },
          ),
          Plot.barX(
            rows.filter(({ isKnown }) => !isKnown),
            { ...bar, fill: 'none', stroke: 'var(--edge)', strokeDasharray: '3 3' },
          ),
          Plot.text(rows, {
            ...text,
            text: 'label',
            frameAnchor: 'left',
            lineWidth: (width - 110) / 13.5,
            textOverflow: 'ellipsis',
          }),
          Plot.text(rows, { ...text, text: 'text', frameAnchor: 'right', fontWeight: 640 }),
        ],
      });
      drawing.current.replaceChildren(chart);
    });
    return () => {
      isLeft = true;
    };
  }, [bars, width]);
  return (
    <div ref={measured} className="takings-chart">
      <div ref={drawing} aria-hidden="true" style={{ blockSize: ROW_PX * bars.length }} />
      <ul>
        {bars.map(({ label, text, note }) => (
          <li key={`${label} ${text}`}>
            <span className="sr">
              {label}: {text}, of{' '}
            </span>
            {note}
          </li>
        ))}
      </ul>
    </div>
  );
}

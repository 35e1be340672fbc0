/** Rates in rows: a name, a dot with its range, the count behind it, and the pictures that missed. */
import type { RatesView, RateView } from '../../server/review/types.js';
import { Evidence } from '../lunch/Evidence.js';
import { GroupLetter } from '../marks/Marks.js';
import { percent, RangeMark } from './RangeMark.js';

export function RatesPart({ table }: { readonly table: RatesView }) {
  return (
    <section className="part rates-part">
      <h2>{table.title}</h2>
      <RateRows rows={table.rows} of={table.title.toLowerCase()} />
      {table.without && <p className="note">{table.without}</p>}
    </section>
  );
}

export function RateRows({ rows, of }: { readonly rows: readonly RateView[]; readonly of: string }) {
  if (rows.length === 0) return null;
  return (
    <ul className="rate-rows">
      <li className="rate-axis" aria-hidden="true">
        <span />
        <span className="axis-words">
          <span>0</span> <span>50</span> <span>100 %</span>
        </span>
      </li>
      {rows.map((rate) => (
        <RateRow key={rate.label} rate={rate} of={of} />
      ))}
    </ul>
  );
}

function RateRow({ rate, of }: { readonly rate: RateView; readonly of: string }) {
  const { label, group, share, from, to, hits, bikes, isFew, missed, missedWords } = rate;
  return (
    <li>
      <span className="rate-label">
        {group && <GroupLetter group={group} />} {label}
      </span>
      <span className="rate-range">
        <RangeMark marks={[{ at: share, from, to, isFew }]} />
        <span className="sr">
          {percent(share)} %, range {percent(from)} to {percent(to)} %
        </span>
      </span>
      <span className="rate-count">
        <span className="figure">{hits.toLocaleString('en-GB')}</span> of {bikes.toLocaleString('en-GB')}
        {isFew && <b> few</b>}
        <span className="missed-words">{missedWords ?? 'none missed'}</span>
      </span>
      <Evidence pictures={missed} of={`missed, ${of}, ${label}: ${missedWords ?? ''}`} />
    </li>
  );
}

/** What the meeting took: what is left, how it came to that, and where it came from. */
import { queryOptions, useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { Fragment } from 'react';
import type { CurrencyTakingsView, TakingsView } from '../../server/takings/types.js';
import { ask } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Trouble } from '../sheets/Trouble.js';
import { TakingsChart } from './TakingsChart.js';

/** Orders come in while the sheet lies open elsewhere, so it is asked anew whenever it is opened. */
const takingsQuery = queryOptions({
  queryKey: ['takings'],
  queryFn: () => ask<TakingsView>('/api/takings'),
  staleTime: 0,
});

export function TakingsSheet() {
  const { data, error } = useQuery(takingsQuery);
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/' }));
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return (
    <main id="sheet" className="takings-sheet">
      <header className="opening">
        <h1 className="headline">{data.headline}</h1>
        {data.apart.map((sentence) => (
          <p key={sentence} className="urgent">
            {sentence}
          </p>
        ))}
        <p className="lead">{data.lead}</p>
      </header>
      {data.currencies.map((one) => (
        <Currency key={one.currency} view={one} />
      ))}
      <div className="acts">
        {data.currencies.length === 0 ? (
          <Act words={SHEET_WORDS.takings.orders} kind="main" run={() => void navigate({ to: '/orders' })} />
        ) : (
          <Act
            words={SHEET_WORDS.takings.accountant}
            run={() => window.location.assign('/api/takings/csv')}
            consequence="One line a payment or refund, with its tax and the number of its paper."
          />
        )}
      </div>
    </main>
  );
}

function Currency({ view: { currency, sums, charts } }: { readonly view: CurrencyTakingsView }) {
  return (
    <div className="takings-parts">
      <section className="part">
        <h2>
          From what came to what is left <span className="aside">{currency}</span>
        </h2>
        <dl className="takings-sums">
          {sums.map(({ words, amount, isLeft }) => (
            <Fragment key={words}>
              <dt className={isLeft ? 'left' : ''}>{words}</dt>
              <dd className={isLeft ? 'figure left' : 'figure'}>{amount}</dd>
            </Fragment>
          ))}
        </dl>
      </section>
      {charts.map((chart) => (
        <section key={chart.title} className="part">
          <h2>
            {chart.title} {chart.aside && <span className="aside">{chart.aside}</span>}
          </h2>
          <TakingsChart bars={chart.bars} />
        </section>
      ))}
    </div>
  );
}

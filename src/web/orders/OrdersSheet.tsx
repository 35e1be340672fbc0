/** Orders: who waits for whose money, what riders wrote, and the van's screen. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useEffect, useState } from 'react';
import type { OrdersView } from '../../server/orders/types.js';
import { Act } from '../keys/Act.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Trouble } from '../sheets/Trouble.js';
import { ask } from '../stores/said.js';
import { MessagesPart } from './MessagesPart.js';
import { OrderPart } from './OrderPart.js';
import { ordersDesk, ordersQuery } from './ordersApi.js';

const WORDS = SHEET_WORDS.orders;

export function OrdersSheet({ asked }: { readonly asked: string | undefined }) {
  const { data, error } = useQuery(ordersQuery);
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/takings' }));
  const canFetch = data?.canFetch ?? false;
  // Whoever opens the sheet wants to know how things stand now.
  useEffect(() => {
    if (canFetch) void ordersDesk.fetch().catch(() => undefined);
  }, [canFetch]);
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return (
    <main id="sheet" className="orders-sheet">
      <header className="opening">
        <h1 className="headline">{data.headline}</h1>
        {data.lead && <p className="lead">{data.lead}</p>}
        <Standing view={data} />
      </header>
      <div className="orders-columns">
        <OrderList orders={data.orders} asked={asked} />
        <div>
          <MessagesPart messages={data.messages} />
          <VanPart van={data.van} />
        </div>
      </div>
    </main>
  );
}

/** Since when this holds, and what is being done about it. */
function Standing({ view }: { readonly view: OrdersView }) {
  const { fetching, trouble, lastFetched, canFetch } = view;
  const fetched =
    lastFetched === null
      ? 'Not fetched since this desk was opened; what is shown came before.'
      : `Fetched at ${clockOf(lastFetched)}.`;
  return (
    <>
      <div className="orders-fetched">
        <p className="sub" role="status">
          {fetching === null
            ? fetched
            : `Fetching from the order service: ${fetching.come.toLocaleString('en-GB')} facts so far.`}
        </p>
        {canFetch && (
          <Act
            words={WORDS.fetch}
            run={() => void ask('Orders: being fetched.', ordersDesk.fetch)}
            isOff={fetching !== null}
          />
        )}
      </div>
      {fetching === null && trouble !== null && (
        <p className="urgent" role="alert">
          The order service was not reached, so this may be old. {trouble}
        </p>
      )}
    </>
  );
}

function OrderList({ orders, asked }: Pick<OrdersView, 'orders'> & { readonly asked: string | undefined }) {
  const navigate = useNavigate();
  const open = orders.find(({ reference }) => reference === asked) ?? null;
  const [isFolded, setFolded] = useState(false);
  // The first one that waits is open by itself, until somebody folds it.
  const shown = open ?? (asked === undefined && !isFolded ? (orders[0] ?? null) : null);
  const show = (reference: string | undefined) => {
    setFolded(reference === undefined);
    void navigate({ to: '/orders', search: reference === undefined ? {} : { order: reference }, replace: true });
  };
  const step = (by: 1 | -1) => {
    const at = shown === null ? (by === 1 ? -1 : orders.length) : orders.indexOf(shown);
    const next = orders[at + by];
    if (!next) return;
    show(next.reference);
    document.getElementById(`order-${next.reference}`)?.focus();
  };
  useArrows({ along: step }, orders.length > 0);
  if (orders.length === 0) return <p className="note">Orders stand here as soon as the first rider has placed one.</p>;
  return (
    <section className="part">
      <h2>
        Orders <span className="aside">those that wait for money first; arrows up and down</span>
      </h2>
      <ul className="order-rows">
        {orders.map((order) => (
          <OrderPart
            key={order.reference}
            order={order}
            isOpen={order === shown}
            toggle={() => show(order === shown ? undefined : order.reference)}
          />
        ))}
      </ul>
    </section>
  );
}

function VanPart({ van }: Pick<OrdersView, 'van'>) {
  return (
    <section className="part">
      <h2>The van’s screen</h2>
      <p>
        Turned outwards, a rider finds their pictures by colour, number or session, orders, and pays you in cash or by
        your terminal. It shows nothing of anybody else’s, and makes room for the next rider by itself. Give it a window
        over the whole screen: this desk is behind it.
      </p>
      <div className="acts">
        {'address' in van ? (
          <Act words={WORDS.van} run={() => void window.open(van.address, '_blank', 'noopener')} />
        ) : (
          <Act words={WORDS.van} run={() => undefined} isOff why={van.why} />
        )}
      </div>
    </section>
  );
}

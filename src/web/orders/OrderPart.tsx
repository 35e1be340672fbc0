/** One order: a row, and opened, all that was ordered, the money, its pictures and what can be said of it. */
import { useState } from 'react';
import type { OrderView } from '../../server/orders/types.js';
import { clockOf } from '../line/lineGeometry.js';
import { Voice } from '../marks/Voices.js';
import { RiderRow } from '../sheets/RiderTile.js';
import { moneyOf, OrderActs } from './OrderActs.js';
import { OrderPictures } from './OrderPictures.js';

const STANDING = {
  unknown: 'not placed yet',
  'waiting-for-money': 'waits for money',
  paid: 'paid',
  refunded: 'given back',
  cancelled: 'cancelled',
} as const;

const dayAndClock = (wall: number): string =>
  `${new Date(wall).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', timeZone: 'UTC' })} ${clockOf(wall)}`;

interface OrderPartProps {
  readonly order: OrderView;
  readonly isOpen: boolean;
  readonly toggle: () => void;
}

export function OrderPart({ order, isOpen, toggle }: OrderPartProps) {
  const { state, reference, name } = order;
  const money = moneyOf(order);
  const isWaiting = state.standing === 'waiting-for-money';
  return (
    <li className={isWaiting ? 'waiting' : undefined}>
      <button type="button" id={`order-${reference}`} className="order-row" aria-expanded={isOpen} onClick={toggle}>
        <span className="figure">{reference}</span>
        <span className="order-who">
          <b>{name || 'Contact removed'}</b> {state.placed!.lines.map((line) => line.name).join(', ')}
        </span>
        <span className="order-when">{dayAndClock(order.placedAt)}</span>
        <span className="order-stands">
          <b className="figure">{money(isWaiting ? state.owed : state.placed!.totals.toPay)}</b>{' '}
          {STANDING[state.standing]}
        </span>
      </button>
      {isOpen && <OpenOrder order={order} />}
    </li>
  );
}

function OpenOrder({ order }: { readonly order: OrderView }) {
  const { state, pictures, riders } = order;
  const money = moneyOf(order);
  const placed = state.placed!;
  const [marked, setMarked] = useState<ReadonlySet<string>>(new Set());
  const mark = (id: string) =>
    setMarked((before) => new Set(before.has(id) ? [...before].filter((one) => one !== id) : [...before, id]));
  return (
    <div className="open-order">
      <ul className="order-lines">
        {placed.lines.map((line) => (
          <li key={JSON.stringify([line.product, line.asked])}>
            <span>
              {line.name}
              {line.quantity > 1 && ` × ${line.quantity}`}
              <span className="quiet">
                {line.pictures.length > 1 && `, ${line.pictures.length} pictures`}
                {line.licence !== 'personal' && ` (${line.licence})`}
              </span>
            </span>
            <span className="figure">{money(line.unitPrice * line.quantity)}</span>
          </li>
        ))}
        {placed.totals.off > 0 && (
          <li>
            <span>Taken off</span> <span className="figure">{money(0 - placed.totals.off)}</span>
          </li>
        )}
        <li>
          <b>To pay</b> <b className="figure">{money(placed.totals.toPay)}</b>
        </li>
      </ul>
      <ul className="order-money">
        {order.money.map(({ at, said }) => (
          <li key={`${at} ${said.text}`}>
            {dayAndClock(at)} <Voice spoken={said} />
          </li>
        ))}
      </ul>
      {placed.contact.mail !== '' && (
        <p className="note">
          {placed.contact.mail}
          {placed.contact.address !== null && <>; prints go to {placed.contact.address}</>}
        </p>
      )}
      {riders.length > 0 && (
        <ul className="rider-rows">
          {riders.map((rider) => (
            <RiderRow key={rider.key} rider={rider} />
          ))}
        </ul>
      )}
      <OrderPictures pictures={pictures} marked={marked} mark={mark} />
      <OrderActs order={order} marked={marked} />
    </div>
  );
}

/** One order: a row, and opened, all that was ordered, the money, and what can be said of it. */
import { useState } from 'react';
import { refundSentence, refundWrongRider } from '../../core/handover/law/index.js';
import { type HandWay, type Minor, moneyText } from '../../core/handover/orders/index.js';
import type { OrderPictureView, OrderSaid, OrderView } from '../../server/orders/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Picture } from '../marks/Marks.js';
import { Voice } from '../marks/Voices.js';
import { RiderRow } from '../sheets/RiderTile.js';
import { tellForGood } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { askedTwice } from './askedTwice.js';
import { ordersDesk } from './ordersApi.js';

const WORDS = SHEET_WORDS.orders;

const STANDING = {
  unknown: 'not placed yet',
  'waiting-for-money': 'waits for money',
  paid: 'paid',
  refunded: 'given back',
  cancelled: 'cancelled',
} as const;

const WAYS: readonly { readonly way: HandWay; readonly words: string }[] = [
  { way: 'cash', words: 'cash' },
  { way: 'terminal', words: 'card at the terminal' },
  { way: 'transfer', words: 'bank transfer' },
];

const dayAndClock = (wall: number): string =>
  `${new Date(wall).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', timeZone: 'UTC' })} ${clockOf(wall)}`;

const moneyOf =
  ({ state }: OrderView) =>
  (amount: number): string =>
    moneyText(amount as Minor, state.placed!.totals.currency, 'en-GB');

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
                {' '}
                {line.pictures.length === 1 ? '1 picture' : `${line.pictures.length} pictures`}
                {line.licence === 'personal' ? '' : `, ${line.licence}`}
              </span>
            </span>
            <span className="figure">{money(line.unitPrice * line.quantity)}</span>
          </li>
        ))}
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

interface PicturesProps {
  readonly pictures: readonly OrderPictureView[];
  readonly marked: ReadonlySet<string>;
  readonly mark: (id: string) => void;
}

function OrderPictures({ pictures, marked, mark }: PicturesProps) {
  return (
    <ul className="tiles order-pictures" aria-label="Pictures of the order">
      {pictures.map(({ id, picture, isOut }, n) => {
        const shown = picture ? <Picture picture={picture} alt="" /> : <span className="absent">not here</span>;
        const words = `Picture ${n + 1}`;
        return (
          <li key={id} className={isOut ? 'out' : undefined}>
            {isOut ? (
              <>
                {shown}
                <span className="note">{words}: out of the order</span>
              </>
            ) : (
              <button type="button" aria-pressed={marked.has(id)} onClick={() => mark(id)}>
                {shown}
                <span className="note">
                  {words}
                  {marked.has(id) && <b>: another rider’s</b>}
                </span>
              </button>
            )}
          </li>
        );
      })}
    </ul>
  );
}

function OrderActs({ order, marked }: { readonly order: OrderView; readonly marked: ReadonlySet<string> }) {
  const { state, reference } = order;
  const { paid, refunded, owed, standing, pictures, placed } = state;
  const money = moneyOf(order);
  const asPlaced = WAYS.find(({ way }) => way === placed!.way)?.way ?? 'cash';
  const [way, setWay] = useState<HandWay>(asPlaced);
  const [slip, setSlip] = useState('');
  const isAsking = useStore(askedTwice) === reference;
  const seen = { paid, refunded };
  const say = (text: string, instead: string, said: OrderSaid) =>
    void tellForGood(text, instead, () => ordersDesk.say(state.id, said));
  const wrong = marked.size === 0 ? pictures : pictures.filter((id) => marked.has(id));
  const wrongSaid = refundSentence(refundWrongRider(state, wrong, 'asked'), money);
  const left = paid - refunded;
  const anew = 'What left the order is not put back; the rider can order it anew, at the van too.';
  if (isAsking)
    return (
      <div className="acts boxes">
        <Act
          words={WORDS.yes}
          kind="box"
          run={() => {
            askedTwice.set(null);
            say(`${reference} cancelled`, 'An order that was cancelled stays so; the rider can order anew.', {
              say: 'cancel',
              seen,
            });
          }}
          consequence={`${reference} is cancelled and stays so.`}
        />
        <Act words={WORDS.back} kind="box" run={() => askedTwice.set(null)} consequence="It waits on." />
      </div>
    );
  return (
    <>
      {owed > 0 && (
        <fieldset className="order-ways">
          <legend className="sub">{money(owed)} owed. How it came</legend>
          {WAYS.map((one) => (
            <button
              key={one.way}
              type="button"
              className="word"
              aria-pressed={way === one.way}
              onClick={() => setWay(one.way)}
            >
              {one.words}
              {one.way === placed!.way && ', as they said'}
            </button>
          ))}
          <label className="slip">
            <span>Number of the slip or transfer, if any</span>
            <input value={slip} maxLength={200} onChange={(event) => setSlip(event.target.value)} />
          </label>
        </fieldset>
      )}
      <div className="acts boxes">
        {owed > 0 && (
          <Act
            words={WORDS.money}
            kind="box"
            run={() =>
              say(
                `${money(owed)} came for ${reference}`,
                `Money that came is not unsaid. Give it back instead: open ${reference} and say so there; both stay in the books.`,
                { say: 'money', way, reference: slip.trim(), seen },
              )
            }
            consequence={`${money(owed)}, ${WAYS.find((one) => one.way === way)!.words}. The pictures go to the rider, and the receipt takes its number.`}
          />
        )}
        {pictures.length > 0 && left > 0 && (
          <Act
            words={WORDS.wrong}
            kind="box"
            run={() => say(`Wrong rider in ${reference}`, anew, { say: 'wrong-rider', pictures: wrong, seen })}
            consequence={`${marked.size === 0 ? 'None is marked, so all: ' : ''}${wrongSaid} They are not put back.`}
          />
        )}
        {left > 0 && (
          <Act
            words={WORDS.give}
            kind="box"
            run={() =>
              say(
                `${money(left)} given back for ${reference}`,
                'Money given back is not unsaid; the rider can order anew.',
                {
                  say: 'back',
                  seen,
                },
              )
            }
            consequence={`You give ${money(left)} back the way it came; a credit note is written. The pictures stay theirs.`}
          />
        )}
        {standing === 'waiting-for-money' && paid === 0 && (
          <Act
            words={WORDS.cancel}
            kind="box"
            run={() => askedTwice.set(reference)}
            consequence="Nobody has paid; asked once more."
          />
        )}
      </div>
      {(owed > 0 || left > 0) && (
        <p className="note">
          The service keeps what it is told of money: Ctrl+Z takes none of it back. A slip is mended by its opposite.
        </p>
      )}
    </>
  );
}

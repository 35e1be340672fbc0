/** What can be said of an order: money came, wrong rider, all given back, cancelled. What it will do stands on each. */
import { useState } from 'react';
import { refundSentence, refundWrongRider } from '../../core/handover/law/index.js';
import { type HandWay, type Minor, moneyText } from '../../core/handover/orders/index.js';
import type { OrderSaid, OrderView } from '../../server/orders/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { tellForGood } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { askedTwice } from './askedTwice.js';
import { ordersDesk } from './ordersApi.js';

const WORDS = SHEET_WORDS.orders;

const WAYS: readonly { readonly way: HandWay; readonly words: string }[] = [
  { way: 'cash', words: 'cash' },
  { way: 'terminal', words: 'card at the terminal' },
  { way: 'transfer', words: 'bank transfer' },
];

export const moneyOf =
  ({ state }: OrderView) =>
  (amount: number): string =>
    moneyText(amount as Minor, state.placed!.totals.currency, 'en-GB');

export function OrderActs({ order, marked }: { readonly order: OrderView; readonly marked: ReadonlySet<string> }) {
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
            consequence={`${marked.size === 0 ? 'None is marked, so all: ' : ''}${wrongSaid} What leaves is not put back.`}
            isOff={wrong.length === 0}
            why="What was marked is out of the order; mark what else is another rider’s."
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

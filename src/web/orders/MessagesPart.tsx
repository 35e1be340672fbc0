/** What riders wrote by the gallery's forms, as questions: the newest that is not answered can be answered by a key. */
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import type { MessageView, OrdersView } from '../../server/orders/types.js';
import { queries } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Picture } from '../marks/Marks.js';
import { Absent } from '../marks/Voices.js';
import { RiderRow } from '../sheets/RiderTile.js';
import { tellForGood } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { askedTwice } from './askedTwice.js';
import { ordersDesk } from './ordersApi.js';

const WORDS = SHEET_WORDS.orders;

export function MessagesPart({ messages }: Pick<OrdersView, 'messages'>) {
  const [at, setAt] = useState(0);
  if (messages === null)
    return (
      <section className="part">
        <h2>What riders wrote</h2>
        <p>
          <Absent>not fetched yet</Absent> It is kept at the order service alone.
        </p>
      </section>
    );
  const shown = messages[Math.min(at, messages.length - 1)];
  return (
    <section className="part messages">
      <h2>
        What riders wrote{' '}
        <span className="aside">
          {messages.length === 1 ? '1 question' : `${messages.length.toLocaleString('en-GB')} questions`}
        </span>
      </h2>
      {shown === undefined ? (
        <p>Nobody asks anything.</p>
      ) : (
        <>
          <Message key={shown.id} message={shown} />
          {messages.length > 1 && (
            <div className="acts">
              <Act words={WORDS.next} run={() => setAt((messages.indexOf(shown) + 1) % messages.length)} />
            </div>
          )}
        </>
      )}
    </section>
  );
}

function Message({ message }: { readonly message: MessageView }) {
  const { picture, rider, words, contact, orders } = message;
  const isSure = useStore(askedTwice) === message.id;
  const forget = () =>
    void tellForGood('Answered, and forgotten', 'What was forgotten is nowhere any more.', () =>
      ordersDesk.forget(message.id).then(() => queries.invalidateQueries({ queryKey: ['orders'] })),
    );
  return (
    <>
      <p className="lead">{message.sentence}</p>
      {words !== null && <blockquote>{words}</blockquote>}
      {picture && (
        <Link to="/riders" search={{ of: picture.frameId }} className="message-picture">
          <Picture picture={picture} alt="The picture it is about: see who could be in it" />
        </Link>
      )}
      {rider && (
        <ul>
          <RiderRow rider={rider} />
        </ul>
      )}
      {message.kind === 'cannot-find-me' && (
        <p>
          <Link to="/riders" search={{}} className="word">
            Look among all riders
          </Link>
        </p>
      )}
      {orders.map((reference) => (
        <p key={reference}>
          <Link to="/orders" search={{ order: reference }} className="word">
            It is in order {reference}
          </Link>
        </p>
      ))}
      <p className="note">
        {clockOf(message.at)}, {contact === null ? 'no address was left' : `answer to ${contact}`}
      </p>
      <div className="acts">
        {isSure ? (
          <>
            <Act words={WORDS.yes} run={forget} consequence="It goes from the service, too." />
            <Act words={WORDS.back} run={() => askedTwice.set(null)} />
          </>
        ) : (
          <Act words={WORDS.answered} run={() => askedTwice.set(message.id)} />
        )}
      </div>
    </>
  );
}

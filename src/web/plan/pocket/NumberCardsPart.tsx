/** Number cards: printed, handed out with a contact, and tied to a bike by one picture. */
import { useState } from 'react';
import type { PocketView } from '../../../server/pocketTypes.js';
import { queries } from '../../api/queries.js';
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { ask } from '../../stores/said.js';
import { pocketDesk } from './pocketApi.js';

const wholeNumber = (text: string): number | null => (/^[1-9]\d{0,2}$/.test(text.trim()) ? Number(text) : null);

export function NumberCardsPart({ view: data }: { readonly view: PocketView }) {
  return (
    <section className="part ask">
      <h2>Number cards</h2>
      <p className="note">
        A card handed to a rider and photographed with the bike ties contact, gallery and bike together, number or not.
      </p>
      {data.canWrite && <PrintCards />}
      <HandCard date={data.date} />
      {data.cards.length > 0 && (
        <ul className="rows">
          {data.cards.map(({ number, name, contact }) => (
            <li key={`${number} ${name} ${contact}`}>
              Card {number}: {[name, contact].filter((word) => word !== null).join(', ')}
            </li>
          ))}
        </ul>
      )}
      {data.cardNotes.map((note) => (
        <p key={note} className="note">
          {note}
        </p>
      ))}
    </section>
  );
}

function PrintCards() {
  const [from, setFrom] = useState('1');
  const [to, setTo] = useState('40');
  const [first, last] = [wholeNumber(from), wholeNumber(to)];
  const isRange = first !== null && last !== null && first <= last;
  return (
    <p className="fields">
      <label htmlFor="cards-from">Cards from</label>
      <input
        id="cards-from"
        inputMode="numeric"
        size={3}
        value={from}
        onChange={(event) => setFrom(event.target.value)}
      />
      <label htmlFor="cards-to">to</label>
      <input id="cards-to" inputMode="numeric" size={3} value={to} onChange={(event) => setTo(event.target.value)} />
      {isRange ? (
        <a className="word" href={`/api/number-cards?from=${first}&to=${last}`} download>
          On paper, eight an A4
        </a>
      ) : (
        <span className="note">Write the first and the last, from 1 to 999.</span>
      )}
    </p>
  );
}

function HandCard({ date }: { readonly date: string }) {
  const [card, setCard] = useState('');
  const [name, setName] = useState('');
  const [contact, setContact] = useState('');
  const number = wholeNumber(card);
  const isReady = number !== null && (name.trim() !== '' || contact.trim() !== '');
  const hand = () => {
    if (number === null) return;
    void ask(`Card ${number} is handed out.`, () => pocketDesk.handCard(number, name, contact)).then((isDone) => {
      if (!isDone) return;
      for (const clear of [setCard, setName, setContact]) clear('');
      void queries.invalidateQueries({ queryKey: ['pocket', date] });
    });
  };
  return (
    <>
      <p className="fields">
        <label htmlFor="card-number">Card</label>
        <input
          id="card-number"
          inputMode="numeric"
          size={3}
          value={card}
          onChange={(event) => setCard(event.target.value)}
        />
        <label htmlFor="card-name">Name</label>
        <input
          id="card-name"
          size={14}
          autoComplete="off"
          value={name}
          onChange={(event) => setName(event.target.value)}
        />
        <label htmlFor="card-contact">Mail or telephone</label>
        <input
          id="card-contact"
          size={18}
          autoComplete="off"
          value={contact}
          onChange={(event) => setContact(event.target.value)}
        />
      </p>
      <Act
        words={SHEET_WORDS.before.giveCard}
        run={hand}
        isOff={!isReady}
        why="Write the card’s number, and a name or a contact."
        consequence="Kept apart from what is said, and can be erased."
      />
    </>
  );
}

/** Cards, the wrong ones first: verdict, sentence, both copies. And the one thing to do: bring in a card. */
import { useEffect, useRef, useState } from 'react';
import type { CardView } from '../../server/types.js';
import { desk } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { CopyBar } from '../marks/Marks.js';
import { ask } from '../stores/said.js';

const VERDICT_WORDS: Readonly<Record<CardView['verdict'], string>> = {
  keep: 'keep',
  format: 'format',
  'not asked': 'earlier',
};

function CardRow({ card }: { readonly card: CardView }) {
  return (
    <li className={`card verdict-${card.verdict.replace(' ', '-')}`}>
      <p className="card-name">
        <b>{card.name}</b> {card.files.toLocaleString('en-GB')}
      </p>
      <p className="card-verdict">{VERDICT_WORDS[card.verdict]}</p>
      <div className="card-words">
        <p>{card.sentence}</p>
        {card.troubles.map((sentence) => (
          <p key={sentence} className="trouble">
            {sentence}
          </p>
        ))}
        {card.notes.map((sentence) => (
          <p key={sentence} className="note">
            {sentence}
          </p>
        ))}
        {card.missing.map((sentence) => (
          <p key={sentence} className="note">
            {sentence}
          </p>
        ))}
      </div>
      <div className="copies">
        {card.copies.map((copy) => (
          <CopyBar key={copy.disk} copy={copy} />
        ))}
      </div>
    </li>
  );
}

export function CardsPart({
  cards,
  isFirstDay,
}: {
  readonly cards: readonly CardView[];
  readonly isFirstDay: boolean;
}) {
  const [isAsking, setAsking] = useState(false);
  const earlier = cards.filter((card) => card.verdict === 'not asked');
  const current = cards.filter((card) => card.verdict !== 'not asked');
  return (
    <section className="part cards">
      <h2>
        Cards
        {cards.some((card) => card.copies.length > 0) && (
          <span className="aside legend">
            <i className="swatch filled" /> read back and alike <i className="swatch floor" /> written, not read back
          </span>
        )}
      </h2>
      {current.length > 0 && (
        <ul className="card-rows">
          {current.map((card) => (
            <CardRow key={card.id} card={card} />
          ))}
        </ul>
      )}
      {earlier.length > 0 && <Earlier cards={earlier} />}
      {isAsking ? (
        <BringIn close={() => setAsking(false)} />
      ) : (
        <Act words={SHEET_WORDS.day.bringIn} kind={isFirstDay ? 'main' : 'plain'} run={() => setAsking(true)} />
      )}
    </section>
  );
}

/** Cards of earlier on fold to a line: their manifests vouch for them; whether a card may be formatted was not asked now. */
function Earlier({ cards }: { readonly cards: readonly CardView[] }) {
  const [isOpen, setOpen] = useState(false);
  const files = cards.reduce((sum, card) => sum + card.files, 0);
  return (
    <div className="earlier">
      <p>
        <b>{cards.length}</b> brought in earlier, {files.toLocaleString('en-GB')} files in their manifests{' '}
        <button type="button" className="word" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
          {isOpen ? 'fold them' : 'show them'}
        </button>
      </p>
      {isOpen && (
        <ul className="rows">
          {cards.map((card) => (
            <li key={card.id}>
              <b>{card.name}</b> {card.sentence}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function BringIn({ close }: { readonly close: () => void }) {
  const [path, setPath] = useState('');
  const field = useRef<HTMLTextAreaElement>(null);
  useEffect(() => field.current?.focus(), []);
  const bringIn = () => {
    const cards = path.split('\n').flatMap((line) => (line.trim() === '' ? [] : [line.trim()]));
    void ask('Bringing in. Nothing is ever written to a card.', () => desk.bringIn(cards)).then(
      (isDone) => isDone && close(),
    );
  };
  return (
    <div className="ask">
      <label htmlFor="card-path">Where is the card? One folder a line; it stays as it is.</label>
      <textarea
        id="card-path"
        rows={2}
        value={path}
        spellCheck={false}
        ref={field}
        onChange={(event) => setPath(event.target.value)}
        onKeyDown={(event) => event.key === 'Escape' && close()}
      />
      <div className="acts">
        <Act
          words={SHEET_WORDS.bringIn.bringIn}
          kind="main"
          run={bringIn}
          isOff={path.trim() === ''}
          why="Name a folder first."
        />
        <Act words={SHEET_WORDS.bringIn.leave} run={close} />
      </div>
    </div>
  );
}

/** The phone beside the track: the day on its way there by code or file, and what was tapped on its way back. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { CarriedView, PocketView } from '../../../server/pocketTypes.js';
import { queries } from '../../api/queries.js';
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { ask } from '../../stores/said.js';
import { codeFile, pageFile, pocketDesk, pocketQuery } from './pocketApi.js';
import { TapsPart } from './TapsPart.js';

const WORDS = SHEET_WORDS.before;

export function PhonePart({ date }: { readonly date: string }) {
  const { data } = useQuery(pocketQuery(date));
  if (!data || data.date !== date) return null;
  return (
    <section className="phone-part">
      <div className="two-columns">
        <CarryPart view={data} />
        <TapsPart />
      </div>
    </section>
  );
}

function CarryPart({ view }: { readonly view: PocketView }) {
  const { date, address, photographers, stays } = view;
  const [photographer, setPhotographer] = useState(1);
  const [carried, setCarried] = useState<CarriedView | null>(null);
  const carry = () =>
    void ask('The day is ready for the phone.', async () => setCarried(await pocketDesk.carry(date, photographer)));
  return (
    <section className="part ask">
      <h2>Into the pocket</h2>
      <p className="note">
        The phone at the side of the track shows what is on, where to go next and whom to look for, with no signal. Its
        day goes there by this screen: nothing is sent to anybody.
      </p>
      {address === null ? (
        <AddressField date={date} />
      ) : (
        <p className="note">
          The pocket page is hosted at <span className="address">{address}</span>, by your papers.
        </p>
      )}
      {photographers > 1 && (
        <p className="fields">
          <label htmlFor="pocket-photographer">Whose day</label>
          <select
            id="pocket-photographer"
            value={photographer}
            onChange={(event) => {
              setPhotographer(Number(event.target.value));
              setCarried(null);
            }}
          >
            {[...Array(photographers).keys()].map((before) => (
              <option key={before} value={before + 1}>
                photographer {before + 1}
              </option>
            ))}
          </select>
        </p>
      )}
      <Act
        words={WORDS.carry}
        run={carry}
        isOff={address === null}
        why="Say first where the pocket page is hosted; or save the file below."
        consequence={`${stays === 0 ? 'No stay is planned or said yet' : `${stays} ${stays === 1 ? 'stay' : 'stays'}`}; riders on the watch list get a name that stays theirs.`}
      />
      {carried && carried.date === date && <Code carried={carried} />}
      <ul className="rows files">
        <li>
          <a href={pageFile(date, photographer)} download>
            The page with the day in it
          </a>
          , one file for a phone without a signal
        </li>
        <li>
          <a href={codeFile(date, photographer)} download>
            The day alone
          </a>
          , for the hosted page to open
        </li>
        {view.canWrite && (
          <li>
            <WriteFolder />
          </li>
        )}
      </ul>
    </section>
  );
}

function Code({ carried: { code, warnings } }: { readonly carried: CarriedView }) {
  if (code.kind === 'file-only') return <p className="wrongs">{code.sentence}</p>;
  return (
    <figure className="code">
      <svg
        className="qr"
        viewBox={`0 0 ${code.qr.size} ${code.qr.size}`}
        role="img"
        aria-label="The day as a code for the phone’s camera"
        shapeRendering="crispEdges"
      >
        <rect width="100%" height="100%" fill="#fff" />
        <path d={code.qr.path} fill="#000" />
      </svg>
      <figcaption>
        <p>
          Hold the phone’s camera to it. {code.watched} {code.watched === 1 ? 'rider' : 'riders'} to look for,{' '}
          {code.squeezedBytes} bytes.
        </p>
        {code.leftOut.length > 0 && (
          <p className="left-out">One code holds no more: left out are {code.leftOut.join('; ')}. The file has all.</p>
        )}
        {warnings.map((warning) => (
          <p key={warning} className="note">
            {warning}
          </p>
        ))}
      </figcaption>
    </figure>
  );
}

function AddressField({ date }: { readonly date: string }) {
  const [text, setText] = useState('');
  const keep = () =>
    void ask('The address stands among your papers.', () => pocketDesk.address(text)).then(
      (isKept) => isKept && void queries.invalidateQueries({ queryKey: ['pocket', date] }),
    );
  return (
    <p className="fields">
      <label htmlFor="pocket-address">Where the pocket page is hosted</label>
      <input
        id="pocket-address"
        type="url"
        size={34}
        value={text}
        placeholder="https://pictures.example/pocket/"
        onChange={(event) => setText(event.target.value)}
        onKeyDown={(event) => {
          if (event.key === 'Enter') keep();
        }}
      />
      <button type="button" className="word" onClick={keep} disabled={text.trim() === ''}>
        Keep it
      </button>
    </p>
  );
}

function WriteFolder() {
  const [made, setMade] = useState<string | null>(null);
  return (
    <>
      <button
        type="button"
        className="word"
        onClick={() =>
          void ask('The page’s files are written.', async () => setMade((await pocketDesk.writeFolder()).sentence))
        }
      >
        Write the page’s files
      </button>
      , to be put beside the gallery once{made && <span className="note"> {made}</span>}
    </>
  );
}

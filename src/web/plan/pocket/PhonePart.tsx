/** The phone beside the track: the day on its way there by code or file, and what was tapped on its way back. */
import { useQuery } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { CarriedView, PocketView } from '../../../server/pocketTypes.js';
import { queries } from '../../api/queries.js';
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { ask } from '../../stores/said.js';
import { NumberCardsPart } from './NumberCardsPart.js';
import { codeFile, pageFile, pocketDesk, pocketQuery } from './pocketApi.js';
import { TapsPart } from './TapsPart.js';

const WORDS = SHEET_WORDS.before;

export function PhonePart({ date }: { readonly date: string }) {
  const { data } = useQuery(pocketQuery(date));
  const [carried, setCarried] = useState<CarriedView | null>(null);
  if (!data || data.date !== date) return null;
  return (
    <section className="phone-part" aria-label="The phone beside the track">
      {carried?.date === date && <Code carried={carried} close={() => setCarried(null)} />}
      <div className="two-columns">
        <CarryPart view={data} setCarried={setCarried} />
        <div>
          <TapsPart />
          <NumberCardsPart view={data} />
        </div>
      </div>
    </section>
  );
}

interface CarryProps {
  readonly view: PocketView;
  readonly setCarried: (carried: CarriedView | null) => void;
}

function CarryPart({ view, setCarried }: CarryProps) {
  const { date, address, photographers, stays } = view;
  const [photographer, setPhotographer] = useState(1);
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

interface CodeProps {
  readonly carried: CarriedView;
  readonly close: () => void;
}

/** As large as the screen lets it: a phone reads a full one from 7 pixels a module on. */
function Code({ carried: { code, warnings }, close }: CodeProps) {
  const figure = useRef<HTMLElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each new code is brought into sight
  useEffect(() => figure.current?.scrollIntoView({ block: 'start' }), [code]);
  if (code.kind === 'file-only')
    return (
      <p className="wrongs" role="alert">
        {code.sentence}
      </p>
    );
  return (
    <figure className="carried" ref={figure}>
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
        <p className="lead">Hold the phone’s camera to the code.</p>
        <p>
          {code.watched} {code.watched === 1 ? 'rider' : 'riders'} to look for, {code.squeezedBytes} bytes. The day
          stands behind the # of the address, which browsers send to nobody.
        </p>
        {code.leftOut.length > 0 && (
          <p className="left-out">One code holds no more: left out are {code.leftOut.join('; ')}. The file has all.</p>
        )}
        {warnings.map((warning) => (
          <p key={warning} className="note">
            {warning}
          </p>
        ))}
        <button type="button" className="word" onClick={close}>
          Put the code away
        </button>
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

/** The time before: the timetable and where one stood, said by pasting lines. */
import { useQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import type { Decision } from '../../core/log/types.js';
import type { BeforeView } from '../../server/types.js';
import { beforeQuery, dateShown } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Initialled } from '../marks/Voices.js';
import { PhonePart } from '../plan/pocket/PhonePart.js';
import { say } from '../stores/said.js';
import { readStands } from '../stores/standsText.js';
import { useStore } from '../stores/store.js';
import { EntriesPart } from './EntriesPart.js';
import { MissingLine, OfficePart } from './OfficePart.js';
import { SlipsPart } from './SlipsPart.js';
import { TimetablePart } from './TimetablePart.js';
import { Trouble } from './Trouble.js';
import { Wrongs } from './Wrongs.js';

const WORDS = SHEET_WORDS.before;

export function BeforeSheet() {
  const date = useStore(dateShown);
  const { data, error } = useQuery(beforeQuery(date));
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/' }));
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return (
    <main id="sheet" className="before-sheet" key={data.date}>
      <header className="opening">
        <h1 className="headline">
          {data.timetableText === '' ? 'No timetable is said yet.' : 'What was said before the day.'}
        </h1>
        <p className="lead">
          One line a session. It can be said again whenever it changes; the last word holds. Spots and ways are drawn on{' '}
          <Link to="/circuit">the circuit’s sheet</Link>.
        </p>
        {isAhead(data) && <MissingLine date={data.date} />}
      </header>
      <div className="two-columns">
        {/* On the day itself what slips comes first; on a phone the columns stand one under the other. */}
        {isOn(data) && <DayColumn view={data} />}
        <div>
          <TimetablePart view={data} />
          <EntriesPart view={data} />
        </div>
        {!isOn(data) && <DayColumn view={data} />}
      </div>
      <PhonePart date={data.date} />
      <OfficePart date={data.date} />
    </main>
  );
}

const isOn = ({ date, now, runs }: BeforeView): boolean =>
  runs !== null && new Date(now).toISOString().startsWith(date);

const isAhead = ({ date, now }: BeforeView): boolean => new Date(now).toISOString().slice(0, 10) < date;

const DayColumn = ({ view }: { readonly view: BeforeView }) => (
  <div>
    <SlipsPart view={view} />
    <StandsPart view={view} />
  </div>
);

function StandsPart({ view }: { readonly view: BeforeView }) {
  const [text, setText] = useState('');
  const read = readStands(text, view.date, view.spots);
  const sayIt = () => {
    if (read.kind !== 'read') return;
    const { stands, spots } = read.value;
    const decisions: Decision[] = [
      ...(spots === null ? [] : [{ kind: 'spots' as const, spots }]),
      ...stands.map((stand) => ({ kind: 'stood-at' as const, ...stand })),
    ];
    void say(`Where you stood: ${stands.length} ${stands.length === 1 ? 'stand' : 'stands'}`, decisions).then(
      (isSaid) => isSaid && setText(''),
    );
  };
  return (
    <section className="part ask">
      <h2>Where you stood</h2>
      {view.stands.length > 0 && (
        <ul className="rows">
          {view.stands.map((stand) => (
            <li key={`${stand.number}-${stand.from}`}>
              <Initialled
                text={`${stand.number} ${stand.name}, ${clockOf(stand.from)} to ${clockOf(stand.to)}`}
                initials={view.initials}
              />
            </li>
          ))}
        </ul>
      )}
      <p className="note">
        <label htmlFor="stands">
          One line a stand, spots by number or name; a name not used before is a new spot.{' '}
          {view.spots.map((spot) => `${spot.number} ${spot.name}`).join(', ')}
        </label>
      </p>
      <textarea
        id="stands"
        rows={5}
        spellCheck={false}
        value={text}
        placeholder={`${view.spots[0]?.name ?? 'Beacon'} 08:56-10:00`}
        onChange={(event) => setText(event.target.value)}
      />
      {read.kind === 'wrong' && <Wrongs sentences={read.sentences} />}
      <Act
        words={WORDS.sayStands}
        kind="main"
        run={sayIt}
        isOff={read.kind !== 'read'}
        why={read.kind === 'nothing' ? 'Write a line first.' : 'Mend the lines named above first.'}
      />
      <p className="note">
        The circuit’s, the marshals’ and local rules come first: stand only where your accreditation lets you.
      </p>
    </section>
  );
}

/** The time before: the timetable and where one stood, said by pasting lines. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import type { Decision } from '../../core/log/types.js';
import type { SlipRule } from '../../core/plan/types.js';
import type { BeforeView } from '../../server/types.js';
import { beforeQuery, dateShown } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf, lapOf } from '../line/lineGeometry.js';
import { Initialled } from '../marks/Voices.js';
import { say } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { type Read, readLap, readStands, readTimetable, withOtherDays } from '../stores/timetableText.js';
import { OfficePart } from './OfficePart.js';
import { Trouble } from './Trouble.js';

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
        <p className="lead">One line a session. It can be said again whenever it changes; the last word holds.</p>
      </header>
      <div className="two-columns">
        <TimetablePart view={data} />
        <StandsPart view={data} />
      </div>
      <OfficePart date={data.date} />
    </main>
  );
}

const Wrongs = ({ read }: { readonly read: Read<unknown> }) =>
  read.kind === 'wrong' ? (
    <ul className="wrongs">
      {read.sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  ) : null;

function TimetablePart({ view }: { readonly view: BeforeView }) {
  const [text, setText] = useState(view.timetableText);
  // Said elsewhere or taken back: lines nobody has touched follow; touched ones are left alone.
  const [follows, setFollows] = useState(view.timetableText);
  if (follows !== view.timetableText) {
    setFollows(view.timetableText);
    if (text === follows) setText(view.timetableText);
  }
  const [slipRule, setSlipRule] = useState<SlipRule>(view.slipRule);
  const [lap, setLap] = useState(view.fastestLapMs === null ? '' : lapOf(view.fastestLapMs));
  const read = readTimetable(text, view.date, slipRule);
  const lapRead = readLap(lap);
  const isReady = read.kind === 'read' && lapRead.kind !== 'wrong';
  const summary =
    read.kind === 'read'
      ? `${read.value.slots.length} sessions; ${read.value.groups.map((group) => group.name).join(', ')}.`
      : null;
  const sayIt = () => {
    if (read.kind !== 'read') return;
    const lapMs = lapRead.kind === 'read' ? { fastestLapMs: lapRead.value } : {};
    const timetable = withOtherDays({ ...read.value, ...lapMs }, view.otherDays);
    void say(`A timetable of ${read.value.slots.length} sessions`, [{ kind: 'timetable', timetable }]);
  };
  return (
    <section className="part ask">
      <h2>
        <label htmlFor="timetable">Timetable</label> <span className="aside">{view.date}</span>
      </h2>
      <textarea
        id="timetable"
        rows={12}
        spellCheck={false}
        value={text}
        placeholder={'N1 Novice 09:00-09:20\nI1 Inters 09:20-09:40'}
        onChange={(event) => setText(event.target.value)}
      />
      <Wrongs read={read} />
      {summary && <p className="note">{summary}</p>}
      <fieldset>
        <legend>When a session is late</legend>
        <label>
          <input
            type="radio"
            name="slip"
            checked={slipRule === 'clock-fixed'}
            onChange={() => setSlipRule('clock-fixed')}
          />{' '}
          a lost minute is lost
        </label>
        <label>
          <input type="radio" name="slip" checked={slipRule === 'sliding'} onChange={() => setSlipRule('sliding')} />{' '}
          everything after it moves
        </label>
      </fieldset>
      <p className="lap">
        <label htmlFor="lap">The fastest lap known here, as 1:35.0; no bike returns sooner</label>
        <input id="lap" value={lap} placeholder="not said" size={8} onChange={(event) => setLap(event.target.value)} />
      </p>
      <Wrongs read={lapRead} />
      <Act
        words={WORDS.sayTimetable}
        kind="main"
        run={sayIt}
        isOff={!isReady}
        why={read.kind === 'nothing' ? 'Write or paste its lines first.' : 'Mend what is named above first.'}
      />
    </section>
  );
}

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
      <Wrongs read={read} />
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

/** Before leaving home: what is missing first, then what is settled, packing with boxes to tick, and the lines to write. */
import { useQuery } from '@tanstack/react-query';
import { type ReactNode, useId, useState } from 'react';
import {
  KIT_EXAMPLE,
  MEETING_EXAMPLE,
  OWN_EXAMPLE,
  type Read,
  readKit,
  readMeeting,
  readOwn,
} from '../../core/office/index.js';
import type { Check } from '../../core/office/types.js';
import type { OfficeView } from '../../server/types.js';
import { DeskProblem, desk } from '../api/client.js';
import { officeQuery, queries } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { ask } from '../stores/said.js';
import { CarePart } from './CarePart.js';

const WORDS = SHEET_WORDS.before;

/** Resolves when the sheet shows what was written, or what was refused. */
async function writeDown(text: string, work: () => Promise<unknown>): Promise<void> {
  if (await ask(text, work)) await queries.invalidateQueries({ queryKey: ['office'] });
}

export function OfficePart({ date }: { readonly date: string }) {
  const { data, error } = useQuery(officeQuery(date));
  // A desk may be opened without them; one that cannot read them says so in its own words.
  if (error instanceof DeskProblem && error.status === 404) return null;
  if (error)
    return (
      <section className="part">
        <h2>Before leaving home</h2>
        <p className="trouble">{error.message}</p>
      </section>
    );
  if (!data) return null;
  const { page } = data;
  const both = [...page.papers, ...page.kit];
  return (
    <section className="office" aria-labelledby="office">
      <h2 id="office" className="office-title">
        Before leaving home
      </h2>
      <p className="lead">{page.headline}</p>
      <Missing checks={[...both, ...page.packing].filter(({ is }) => is === 'missing')} />
      <div className="two-columns">
        <div>
          <Papers checks={both} />
          <Writing view={data} />
        </div>
        <div>
          <Packing view={data} />
          <CarePart care={data.care} date={data.date} />
        </div>
      </div>
    </section>
  );
}

/** Right under the opening while the day is ahead: all that is missing stands far below the timetable. */
export function MissingLine({ date }: { readonly date: string }) {
  const { data } = useQuery(officeQuery(date));
  if (!data || ![...data.page.papers, ...data.page.kit, ...data.page.packing].some(({ is }) => is === 'missing'))
    return null;
  return (
    <p className="urgent">
      {data.page.headline} <a href="#office">Before leaving home</a>
    </p>
  );
}

/** The only red on the sheet. */
const Missing = ({ checks }: { readonly checks: readonly Check[] }) =>
  checks.length === 0 ? null : (
    <ul className="missing">
      {checks.map(({ id, sentence }) => (
        <li key={id}>
          <span className="sr">Missing: </span>
          {sentence}
        </li>
      ))}
    </ul>
  );

function Papers({ checks }: { readonly checks: readonly Check[] }) {
  const toMind = checks.filter(({ is }) => is === 'mind' || is === 'open');
  const settled = checks.filter(({ is }) => is === 'settled');
  return (
    <section className="part">
      <h2>
        Papers <span className="aside">{settled.length} settled</span>
      </h2>
      <ul className="rows">
        {toMind.map(({ id, sentence }) => (
          <li key={id} className="to-mind">
            {sentence}
          </li>
        ))}
        {settled.map(({ id, sentence }) => (
          <li key={id} className="settled-line">
            {sentence}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Packing({ view }: { readonly view: OfficeView }) {
  const { packing, carried } = view.page;
  const boxes = packing.filter(({ is }) => is !== 'missing');
  return (
    <section className="part">
      <h2>
        In the bag <span className="aside">{weightOf(carried)}</span>
      </h2>
      <ul className="rows packing">
        {boxes.map((check) => (
          <Box key={check.id} check={check} />
        ))}
      </ul>
    </section>
  );
}

function Box({ check: { id, is, sentence } }: { readonly check: Check }) {
  // The tick stands at once and is corrected when the desk answers.
  const [ticked, setTicked] = useState<boolean | null>(null);
  const tick = (isPacked: boolean) => {
    setTicked(isPacked);
    void writeDown(isPacked ? 'In the bag.' : 'Out of the bag again.', () => desk.packed(id, isPacked)).then(() =>
      setTicked(null),
    );
  };
  return (
    <li>
      <label>
        <input type="checkbox" checked={ticked ?? is === 'settled'} onChange={(event) => tick(event.target.checked)} />
        <span>{sentence}</span>
      </label>
    </li>
  );
}

const weightOf = ({ kg, unweighed }: OfficeView['page']['carried']): string =>
  kg === 0 ? 'nothing weighed' : `${kg.toFixed(1)} kg${unweighed === 0 ? '' : `, ${unweighed} not weighed`}`;

function Writing({ view: { texts } }: { readonly view: OfficeView }) {
  return (
    <>
      <Lines
        title="Papers of this meeting"
        note="One line a fact. A circuit asks what it asks: the figures shown in grey are one country’s example."
        said={texts.meeting}
        example={MEETING_EXAMPLE}
        readLines={readMeeting}
        words={WORDS.notePapers}
        write={(text) =>
          writeDown('The papers of this meeting are written down.', () => desk.writeOffice('meeting', text))
        }
      />
      <Lines
        title="My papers"
        note="For every meeting. Kept on this machine, never in a meeting’s folder."
        said={texts.own}
        example={OWN_EXAMPLE}
        readLines={readOwn}
        words={WORDS.keepPapers}
        write={(text) => writeDown('Your papers are written down.', () => desk.writeOffice('own', text))}
      />
      <Lines
        title="My kit"
        note="One thing a line: what it is, its name, then what is known of it. Serial numbers leave this machine in no picture or page."
        said={texts.kit}
        example={KIT_EXAMPLE}
        readLines={readKit}
        words={WORDS.listKit}
        write={(text) => writeDown('Your kit is written down.', () => desk.writeOffice('kit', text))}
      />
    </>
  );
}

interface LinesProps {
  readonly title: string;
  readonly note: ReactNode;
  readonly said: string;
  readonly example: string;
  readonly readLines: (text: string) => Read<unknown>;
  readonly words: string;
  readonly write: (text: string) => Promise<void>;
}

function Lines({ title, note, said, example, readLines, words, write }: LinesProps) {
  const id = useId();
  const [text, setText] = useState(said);
  // Written elsewhere: lines nobody has touched follow; touched ones are left alone.
  const [follows, setFollows] = useState(said);
  if (follows !== said) {
    setFollows(said);
    if (text === follows) setText(said);
  }
  const read = readLines(text);
  const isSame = text.trim() === said;
  return (
    <section className="part ask">
      <h2>
        <label htmlFor={id}>{title}</label>
      </h2>
      <p className="note">{note}</p>
      <textarea
        id={id}
        rows={Math.min(12, example.split('\n').length + 1)}
        spellCheck={false}
        value={text}
        placeholder={example}
        onChange={(event) => setText(event.target.value)}
      />
      {read.kind === 'wrong' && (
        <ul className="wrongs">
          {read.sentences.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      <Act
        words={words}
        kind="main"
        run={() => void write(text)}
        isOff={isSame || read.kind === 'wrong'}
        why={read.kind === 'wrong' ? 'Mend the lines named above first.' : 'Nothing was changed.'}
      />
    </section>
  );
}

/** What every screen has: the mast, the day line, one sheet, the foot that says what was said. */
import { useQuery } from '@tanstack/react-query';
import { Link, useNavigate, useSearch } from '@tanstack/react-router';
import { type ReactNode, useEffect } from 'react';
import type { DayView } from '../server/types.js';
import { lostSince, turnedAway } from './api/events.js';
import { dateShown, dayQuery } from './api/queries.js';
import { arrangedWords } from './line/arrangedWords.js';
import { DayLine, type DayLineProps } from './line/DayLine.js';
import { clockOf } from './line/lineGeometry.js';
import { overlaps, readStretch, type Stretch, stretchText } from './line/stretch.js';
import { GroupLetter } from './marks/Marks.js';
import { Paper } from './Paper.js';
import { saidLine, sayAgain, takeBack } from './stores/said.js';
import { useStore } from './stores/store.js';

export interface ShellProps {
  readonly here: DayLineProps['here'];
  readonly chosen?: (day: DayView) => readonly number[] | undefined;
  readonly title: string;
  /** `stretch` is what the sheet is held to; null is the whole day. */
  readonly children: (day: DayView, stretch: Stretch | null) => ReactNode;
}

/** Sheets that can be held to a stretch; from the others dragging one out goes to the day. */
const STRETCH_SHEETS: readonly ShellProps['here'][] = ['day', 'session', 'riders', 'rider'];

export function Shell({ here, chosen, title, children }: ShellProps) {
  const date = useStore(dateShown);
  const { data: day, error } = useQuery(dayQuery(date));
  const navigate = useNavigate();
  const { stretch: inAddress } = useSearch({ strict: false });
  useEffect(() => {
    document.title = day ? `${title}, ${day.about.name}` : 'Tyrewall';
  }, [title, day]);
  if (error && !day) return <Unpaired sentence={error.message} />;
  if (!day) return null;
  const picked = chosen?.(day);
  const stretch = STRETCH_SHEETS.includes(here) ? readStretch(day.line, inAddress) : null;
  const inStretch = (one: Stretch) =>
    day.line.sessions.flatMap((session) => (session.index !== null && overlaps(one, session) ? [session.index] : []));
  const choose = (next: Stretch | null) => {
    const isHere =
      next === null ||
      here === 'rider' ||
      here === 'riders' ||
      here === 'day' ||
      (here === 'session' && picked?.some((i) => inStretch(next).includes(i)));
    const search = { stretch: next === null ? undefined : stretchText(next) };
    void navigate(
      isHere ? { to: '.', search: (before) => ({ ...before, ...search }), replace: true } : { to: '/', search },
    );
  };
  const dark = picked ?? (stretch ? inStretch(stretch) : undefined);
  return (
    <div className="desk">
      <a className="skip" href="#sheet">
        To the sheet
      </a>
      <Mast day={day} here={here} />
      <DayLine day={day} here={here} stretch={stretch} choose={choose} {...(dark ? { chosen: dark } : {})} />
      {children(day, stretch)}
      <Foot day={day} />
    </div>
  );
}

const dateWords = (date: string): string =>
  new Date(`${date}T00:00:00Z`)
    .toLocaleDateString('en-GB', {
      weekday: 'long',
      day: 'numeric',
      month: 'long',
      year: 'numeric',
      timeZone: 'UTC',
    })
    .replace(',', '');

const shortDateWords = (date: string): string =>
  new Date(`${date}T00:00:00Z`).toLocaleDateString('en-GB', {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    timeZone: 'UTC',
  });

/** Which day is drawn; of several, each is a word that turns to it. */
function Dates({ line }: { readonly line: DayView['line'] }) {
  const navigate = useNavigate();
  if (line.dates.length === 1) return <span>{dateWords(line.date)}</span>;
  return (
    <span className="dates">
      {line.dates.map((date) => (
        <button
          key={date}
          type="button"
          className="word"
          aria-pressed={date === line.date}
          onClick={() => {
            dateShown.set(date);
            void navigate({ to: '.', search: (before) => ({ ...before, stretch: undefined }), replace: true });
          }}
        >
          {shortDateWords(date)}
        </button>
      ))}
    </span>
  );
}

function Mast({ day, here }: { readonly day: DayView; readonly here: DayLineProps['here'] }) {
  const { about, counts } = day;
  return (
    <header className="mast">
      <span className="brand">Tyrewall</span>
      <span className="meeting">
        {about.circuit && <span>{about.circuit}</span>}
        <span>{about.name}</span>
        <Dates line={day.line} />
      </span>
      <span className="group-key">
        {day.groupKeys.map((group) => (
          <span key={group.key}>
            <GroupLetter group={group} /> {group.name}
          </span>
        ))}
      </span>
      <nav className="counts" aria-label="Counts">
        <Link to="/riders" search={{}} aria-current={here === 'riders' || here === 'rider' ? 'true' : undefined}>
          <b>{counts.riders.toLocaleString('en-GB')}</b> {counts.riders === 1 ? 'rider' : 'riders'}
        </Link>
        <Link to="/questions" aria-current={here === 'questions' ? 'true' : undefined}>
          <b>{counts.questions.toLocaleString('en-GB')}</b> {counts.questions === 1 ? 'question' : 'questions'}
        </Link>
      </nav>
    </header>
  );
}

function Foot({ day }: { readonly day: DayView }) {
  const said = useStore(saidLine);
  const lost = useStore(lostSince);
  const refusal = useStore(turnedAway);
  return (
    <footer className="foot">
      <p className={`said-line ${said.kind}`} role="status">
        {said.kind === 'said' && `Said: ${said.text}. Ctrl+Z takes it back.`}
        {said.kind === 'for-good' && `Said for good: ${said.text}.`}
        {said.kind === 'saying' && `${said.text}: being written down.`}
        {said.kind === 'taken-back' && `${said.text} Ctrl+Shift+Z says it again.`}
        {(said.kind === 'done' || said.kind === 'asks' || said.kind === 'refused') && said.text}
        {said.kind === 'nothing' && arrangedWords(day)}
      </p>
      {said.kind === 'said' && (
        <button type="button" className="word take-back" onClick={() => void takeBack()}>
          take it back
        </button>
      )}
      {said.kind === 'asks' && (
        <button type="button" className="word take-back" onClick={() => void takeBack(said.gesture)}>
          take it back all the same
        </button>
      )}
      {said.kind === 'taken-back' && (
        <button type="button" className="word take-back" onClick={() => void sayAgain()}>
          say it again
        </button>
      )}
      {lost !== null && (
        <p className="urgent" role="alert">
          The desk was last heard at {clockOf(lost - new Date(lost).getTimezoneOffset() * 60_000)}; what is shown is
          from then.{refusal !== null && ` ${refusal}`}
        </p>
      )}
      <p className="kept-here">
        {day.counts.decisions === 0
          ? 'Nothing has been said yet'
          : `Your ${day.counts.decisions.toLocaleString('en-GB')} ${day.counts.decisions === 1 ? 'decision is' : 'decisions are'} kept beside the originals`}
      </p>
      <Paper />
      <p className="wheel-key">
        Wheels: filled is good, slit unsure, open missed, a line to come. A bar under a bike: the one meant
      </p>
    </footer>
  );
}

function Unpaired({ sentence }: { readonly sentence: string }) {
  return (
    <div className="desk">
      <main id="sheet">
        <h1 className="headline">This desk is not open here.</h1>
        <p className="lead">{sentence}</p>
      </main>
    </div>
  );
}

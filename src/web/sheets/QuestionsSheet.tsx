/** The questions, most valuable first, one at a time; each answer names what follows from it. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import type { QuestionsView, QuestionView } from '../../server/types.js';
import { questionsQuery } from '../api/queries.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { clockOf } from '../line/lineGeometry.js';
import { Initialled } from '../marks/Voices.js';
import { BorderQuestion, ClockQuestion, ContradictionQuestion, LineUpQuestion, PairQuestion } from './QuestionParts.js';
import { Trouble } from './Trouble.js';

export function QuestionsSheet({ asked }: { readonly asked: string | undefined }) {
  const { data, error } = useQuery(questionsQuery);
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return <Sheet view={data} asked={asked} />;
}

/** Line-ups hold several questions; an address may name any of them. */
const startAt = (questions: readonly QuestionView[], asked: string | undefined): number =>
  asked === undefined
    ? 0
    : Math.max(
        0,
        questions.findIndex((question) => question.id === asked || question.id.includes(asked)),
      );

function Sheet({ view, asked }: { readonly view: QuestionsView; readonly asked: string | undefined }) {
  const navigate = useNavigate();
  const [current, setCurrent] = useState<string | null>(
    () => view.questions[startAt(view.questions, asked)]?.id ?? null,
  );
  const found = view.questions.findIndex((question) => question.id === current);
  const at = Math.max(0, found);
  const question = view.questions[at];
  const goTo = (index: number) => setCurrent(view.questions[index]?.id ?? null);
  const later = () => (at + 1 < view.questions.length ? goTo(at + 1) : void navigate({ to: '/gallery' }));
  useGoOn(later);
  useArrows({ along: (step) => goTo(Math.min(view.questions.length - 1, Math.max(0, at + step))) });
  if (!question)
    return (
      <main id="sheet">
        <header className="opening">
          <h1 className="headline">No question is open.</h1>
          <p className="lead">Whatever the program is unsure of stands here. Space goes on to the gallery.</p>
        </header>
        <SaidPart view={view} />
      </main>
    );
  return (
    <main id="sheet" className="questions-sheet">
      <div className="question" key={question.id}>
        <header className="opening">
          <h1 className="headline">{question.sentence}</h1>
          <p className="count-of">
            <b>{at + 1}</b> of {view.questions.length}
          </p>
        </header>
        <QuestionBody question={question} later={later} />
      </div>
      <aside>
        <section className="part">
          <h2>
            All that is open <span className="aside">most valuable first</span>
          </h2>
          <ol className="rows open-questions">
            {view.questions.map((one, i) => (
              <li key={one.id}>
                <button
                  type="button"
                  className="word"
                  aria-current={i === at ? 'true' : undefined}
                  onClick={() => goTo(i)}
                >
                  {one.sentence}
                </button>
              </li>
            ))}
          </ol>
        </section>
        <SaidPart view={view} />
      </aside>
    </main>
  );
}

function QuestionBody({ question, later }: { readonly question: QuestionView; readonly later: () => void }) {
  switch (question.kind) {
    case 'line-up':
      return <LineUpQuestion question={question} later={later} />;
    case 'pair':
      return <PairQuestion question={question} later={later} />;
    case 'clock':
      return <ClockQuestion question={question} later={later} />;
    case 'border':
      return <BorderQuestion question={question} later={later} />;
    case 'contradiction':
      return <ContradictionQuestion later={later} />;
  }
}

function SaidPart({ view }: { readonly view: QuestionsView }) {
  return (
    <section className="part">
      <h2>
        Said so far <span className="aside">Ctrl+Z takes back</span>
      </h2>
      {view.said.length === 0 ? (
        <p className="note">Nothing has been said yet.</p>
      ) : (
        <ul className="rows said">
          {view.said.map((said) => (
            <li key={said.gesture}>
              <Initialled text={said.text} initials={said.initials} />
              <span className="figure">{clockOf(said.atMs - new Date(said.atMs).getTimezoneOffset() * 60_000)}</span>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** The questions, most valuable first, one at a time; each answer names what follows from it. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useEffect, useRef, useState } from 'react';
import type { Decision } from '../../core/log/types.js';
import type { QuestionsView, QuestionView } from '../../server/types.js';
import { questionsQuery } from '../api/queries.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { clockOf } from '../line/lineGeometry.js';
import { Initialled } from '../marks/Voices.js';
import { NumberCardQuestion } from '../plan/pocket/NumberCardQuestion.js';
import { answered, answerQuestion, isAnswered } from '../stores/answered.js';
import { takeBack } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { ClockQuestion } from './ClockQuestion.js';
import { ContradictionQuestion } from './ContradictionQuestion.js';
import { LineUpQuestion } from './LineUpQuestion.js';
import { OddOneOutQuestion } from './OddOneOutQuestion.js';
import { BorderQuestion, PairQuestion } from './QuestionParts.js';
import { Trouble } from './Trouble.js';
import { WhosePassQuestion } from './WhosePassQuestion.js';

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

/**
 * A question stays on the screen as it was asked until it is answered or put off: while cards come in the list changes
 * at any moment, and a key meant for one question must not answer another. An answer names files and points, so it
 * holds for the pictures shown whatever became of the list.
 */
function useHeldQuestion(view: QuestionsView, asked: string | undefined) {
  const [place, setPlace] = useState(() => startAt(view.questions, asked));
  const [held, setHeld] = useState<QuestionView | null>(null);
  const given = useStore(answered);
  const { back } = given;
  useEffect(() => {
    if (back === null) return;
    setHeld(back);
    answered.update((before) => ({ ...before, back: null }));
  }, [back]);
  // An answer that was taken back and said again leaves no question standing.
  if (held !== null && isAnswered(given, held.id)) setHeld(null);
  const open = view.questions.filter((one) => !isAnswered(given, one.id));
  const next = open[Math.min(place, open.length - 1)];
  if (held === null && next) setHeld(next);
  const at = open.findIndex((one) => one.id === held?.id);
  const finish = () => {
    setPlace(Math.max(0, at));
    setHeld(null);
  };
  return { question: held, open, at, finish, goTo: (index: number) => setHeld(open[index] ?? held) };
}

/** A second press or tap comes sooner than anybody has seen the next question: it was meant for the one before. */
const TOO_SOON_MS = 250;

function Sheet({ view, asked }: { readonly view: QuestionsView; readonly asked: string | undefined }) {
  const navigate = useNavigate();
  const { question, open, at, finish, goTo } = useHeldQuestion(view, asked);
  const answeredAt = useRef(Number.NEGATIVE_INFINITY);
  const answer = (text: string, decisions: readonly Decision[]) => {
    const now = performance.now();
    if (question === null || now - answeredAt.current < TOO_SOON_MS) return;
    answeredAt.current = now;
    finish();
    answerQuestion(question, text, decisions);
  };
  const later = () => (at + 1 < open.length ? goTo(at + 1) : void navigate({ to: '/choosing' }));
  useGoOn(later);
  useArrows({ along: (step) => goTo(Math.min(open.length - 1, Math.max(0, at + step))) });
  if (!question)
    return (
      <main id="sheet">
        <header className="opening">
          <h1 className="headline">No question is open.</h1>
          <p className="lead">Whatever the program is unsure of stands here. Space goes on to choosing.</p>
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
            {at < 0 ? (
              'as it was asked'
            ) : (
              <>
                <b>{at + 1}</b> of {(open.length + view.more).toLocaleString('en-GB')}
              </>
            )}
          </p>
        </header>
        {at < 0 && (
          <p className="note">
            The pictures have been arranged anew since; an answer still holds for the ones shown. Space goes on.
          </p>
        )}
        <QuestionBody question={question} answer={answer} later={later} />
      </div>
      <aside>
        <section className="part">
          <h2>
            All that is open <span className="aside">most valuable first</span>
          </h2>
          <ol className="rows open-questions">
            {open.map((one, i) => (
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
          {view.more > 0 && <p className="note">{view.more.toLocaleString('en-GB')} more wait behind these.</p>}
        </section>
        <SaidPart view={view} />
      </aside>
    </main>
  );
}

interface BodyProps {
  readonly question: QuestionView;
  readonly answer: (text: string, decisions: readonly Decision[]) => void;
  readonly later: () => void;
}

function QuestionBody({ question, answer, later }: BodyProps) {
  switch (question.kind) {
    case 'line-up':
      return <LineUpQuestion question={question} answer={answer} later={later} />;
    case 'pair':
      return <PairQuestion question={question} answer={answer} later={later} />;
    case 'whose-pass':
      return <WhosePassQuestion question={question} answer={answer} later={later} />;
    case 'odd-one-out':
      return <OddOneOutQuestion question={question} answer={answer} later={later} />;
    case 'clock':
      return <ClockQuestion question={question} answer={answer} later={later} />;
    case 'border':
      return <BorderQuestion question={question} answer={answer} later={later} />;
    case 'number-card':
      return <NumberCardQuestion question={question} answer={answer} later={later} />;
    case 'contradiction':
      return <ContradictionQuestion question={question} answer={answer} later={later} />;
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
              {said.canBeTakenBack && (
                <button type="button" className="word" onClick={() => void takeBack(said.gesture)}>
                  take it back
                </button>
              )}
              <span className="figure">{clockOf(said.atMs - new Date(said.atMs).getTimezoneOffset() * 60_000)}</span>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

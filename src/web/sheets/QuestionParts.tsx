/** The kinds of question and their answers. */
import { useRef, useState } from 'react';
import type { Decision } from '../../core/log/types.js';
import { millisecondsOf } from '../../core/units.js';
import type { QuestionView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { useArrows, useLetter } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf, clockWithTenthsOf, percentAt } from '../line/lineGeometry.js';
import { Picture, Plate, Tabs } from '../marks/Marks.js';
import { Absent, Gauge } from '../marks/Voices.js';
import { Wheel } from '../marks/Wheel.js';
import { RiderMarks } from './RiderTile.js';

const WORDS = SHEET_WORDS.questions;

type Of<K extends QuestionView['kind']> = Extract<QuestionView, { kind: K }>;
export interface Asked<K extends QuestionView['kind']> {
  readonly question: Of<K>;
  /** Says it; once it is written down the next question stands here. */
  readonly answer: (text: string, decisions: readonly Decision[]) => void;
  readonly later: () => void;
}

export const Later = ({ later }: { readonly later: () => void }) => (
  <Act words={WORDS.later} kind="box" run={later} consequence="Asked again when it matters." />
);

const Reasons = ({ reasons }: { readonly reasons: readonly string[] }) => (
  <ul className="rows reasons-list">
    {reasons.map((reason) => (
      <li key={reason} className="pencil-words">
        {reason}
      </li>
    ))}
  </ul>
);

type Mark = 'this-rider' | 'unsure';

/** None, this rider, not sure, none again. */
const NEXT_MARK: Readonly<Record<Mark, Mark | null>> = { 'this-rider': 'unsure', unsure: null };
const PRESSED = { 'this-rider': true, unsure: 'mixed' } as const;

/** One rider, up to twelve candidates: mark all that match. None is an answer, and so is not being sure. */
export function LineUpQuestion({ question, answer, later }: Asked<'line-up'>) {
  const [marks, setMarks] = useState<ReadonlyMap<number, Mark>>(new Map());
  const [at, setAt] = useState(0);
  const boxes = useRef<(HTMLButtonElement | null)[]>([]);
  const mark = (index: number, next: Mark | null) => {
    const others = [...marks].filter(([i]) => i !== index);
    setMarks(new Map(next === null ? others : [...others, [index, next]]));
  };
  const turn = (index: number) => {
    const before = marks.get(index);
    mark(index, before === undefined ? 'this-rider' : NEXT_MARK[before]);
  };
  useArrows({
    across: (step) => {
      const next = Math.min(question.shown.length - 1, Math.max(0, at + step));
      setAt(next);
      boxes.current[next]?.focus();
    },
  });
  useLetter(',', () => turn(at));
  const markedAs = (wanted: Mark) =>
    [...marks].flatMap(([i, one]) => (one === wanted ? [i] : [])).sort((a, b) => a - b);
  const chosen = markedAs('this-rider');
  const unsure = markedAs('unsure');
  const sayIt = (of: readonly number[]) =>
    answer(
      of.length === 0
        ? `None of ${question.shown.length - unsure.length} is ${question.of.code}`
        : `${of.length} of a line-up joined to ${question.of.code}`,
      [{ kind: 'line-up', of: question.ofPoint, shown: question.shown.map((one) => one.point), chosen: of, unsure }],
    );
  const unsureWords = unsure.length === 0 ? '' : `; of ${unsure.length} nothing is said`;
  const gained = chosen.reduce((sum, i) => sum + (question.shown[i]?.rider.goodFrames ?? 0), 0);
  return (
    <>
      {question.stretch && <PassLine question={question} marked={new Set(chosen)} />}
      <div className="line-up">
        <section className="part of">
          <h2>
            <Tabs livery={question.of.livery} size="large" />
            {question.of.number ? <Plate number={question.of.number} size="large" /> : <Absent>no number read</Absent>}
            <span className="aside code">{question.of.code}</span>
          </h2>
          <p className="sub">{question.of.livery.words}</p>
          <Picture picture={question.of.face} alt={`${question.of.livery.words}, ${question.of.code}`} />
          <Wheel arcs={question.of.wheel} size={84} keepers={question.of.goodFrames} />
        </section>
        <section className="part">
          <h2>
            Mark every one that is this rider. None is an answer.{' '}
            <span className="aside">most alike first, in pencil</span>
          </h2>
          <ol className="candidates">
            {question.shown.map((one, i) => (
              <li key={one.rider.key}>
                <button
                  ref={(element) => {
                    boxes.current[i] = element;
                  }}
                  type="button"
                  className={MARK_CLASS[marks.get(i) ?? 'none']}
                  aria-pressed={PRESSED[marks.get(i) as Mark] ?? false}
                  onFocus={() => setAt(i)}
                  onClick={() => turn(i)}
                >
                  <span className="place">{i + 1}</span>
                  <span className="tick" aria-hidden="true" />
                  <Picture picture={one.rider.face} alt={one.rider.livery.words} />
                  <span className="pass-line">
                    {one.wall === null ? (
                      <Absent>no time</Absent>
                    ) : (
                      <span className="figure">{clockWithTenthsOf(one.wall)}</span>
                    )}
                    <span className="pencilled">
                      <Gauge confidence={one.confidence} />
                    </span>
                  </span>
                  {marks.get(i) === 'unsure' && <span className="unsure-words">not sure</span>}
                </button>
              </li>
            ))}
          </ol>
          <p className="note">
            Left and right go along. A comma or a tap marks one; again, and it is “not sure”; again, and it is free.
          </p>
        </section>
      </div>
      <div className="acts boxes">
        <Act
          words={WORDS.joinMarked}
          kind="box"
          run={() => sayIt(chosen)}
          isOff={chosen.length === 0}
          why="Nothing is marked."
          consequence={`${question.of.code} gains ${gained} good ${gained === 1 ? 'frame' : 'frames'}; the others are somebody else${unsureWords}.`}
        />
        <Act
          words={WORDS.none}
          kind="box"
          run={() => sayIt([])}
          isOff={chosen.length > 0 || unsure.length === question.shown.length}
          why={chosen.length > 0 ? 'Some are marked.' : 'Nothing would be said.'}
          consequence={`${unsure.length === 0 ? `All ${question.shown.length}` : `The other ${question.shown.length - unsure.length}`} are somebody else${unsureWords}.`}
        />
        <Act
          words={WORDS.maybe}
          kind="box"
          run={() => mark(at, marks.get(at) === 'unsure' ? null : 'unsure')}
          consequence={`Number ${at + 1} is left open.`}
        />
        <Later later={later} />
      </div>
    </>
  );
}

const MARK_CLASS = { none: '', 'this-rider': 'marked', unsure: 'unsure' } as const;

/** Their passes on one line of time, so that laps can be seen to fit. */
function PassLine({ question, marked }: { readonly question: Of<'line-up'>; readonly marked: ReadonlySet<number> }) {
  const { stretch } = question;
  if (!stretch) return null;
  return (
    <div
      className="pass-time-line"
      role="img"
      aria-label={`Passes from ${clockOf(stretch.from)} to ${clockOf(stretch.to)}: the rider's and the candidates'`}
    >
      <span className="from">{clockOf(stretch.from)}</span>
      <span className="to">{clockOf(stretch.to)}</span>
      {question.ofWalls.map((wall) => (
        <i key={wall} className="own" style={{ insetInlineStart: `${percentAt(stretch, wall)}%` }} />
      ))}
      {question.shown.map((one, i) =>
        one.wall === null ? null : (
          <i
            key={one.rider.key}
            className={marked.has(i) ? 'one marked' : 'one'}
            style={{ insetInlineStart: `${percentAt(stretch, one.wall)}%` }}
          >
            <span>{i + 1}</span>
          </i>
        ),
      )}
    </div>
  );
}

/** A pair, when only two are left. */
export function PairQuestion({ question, answer, later }: Asked<'pair'>) {
  const points = question.sides.map((side) => side.point);
  const codes = question.sides.map((side) => side.rider.code).join(' and ');
  return (
    <>
      <div className="pair">
        {question.sides.map((side) => (
          <section key={side.rider.key} className="part">
            <h2>
              {side.rider.code} <span className="aside">{side.where}</span>
            </h2>
            <Picture picture={side.picture} alt={side.rider.livery.words} />
            <RiderMarks rider={side.rider} />
          </section>
        ))}
      </div>
      <p className="sub">
        <span className="pencilled">
          one rider <Gauge confidence={question.confidence} />
        </span>
      </p>
      <Reasons reasons={question.reasons} />
      <div className="acts boxes">
        <Act
          words={WORDS.join}
          kind="box"
          run={() => answer(`${codes} are one rider`, [{ kind: 'same-rider', points }])}
          consequence={question.join}
        />
        <Act
          words={WORDS.apart}
          kind="box"
          run={() => answer(`${codes} are two riders`, [{ kind: 'different-riders', points }])}
          consequence={question.apart}
        />
        <Later later={later} />
      </div>
    </>
  );
}

export function ClockQuestion({ question, answer, later }: Asked<'clock'>) {
  const { body, offsetMs, example, fromFrame, toFrame } = question;
  const stretch = { ...(fromFrame && { fromFrame }), ...(toFrame && { toFrame }) };
  const frames = `${question.frames.toLocaleString('en-GB')} frames`;
  return (
    <>
      {example && (
        <dl className="clock-example">
          <div>
            <dt>A frame as recorded</dt>
            <dd className="clock">{clockOf(example.recorded)}</dd>
          </div>
          <div>
            <dt>put right</dt>
            <dd className="clock pencil-words">{clockOf(example.corrected)}</dd>
          </div>
        </dl>
      )}
      <Reasons reasons={question.reasons} />
      <div className="acts boxes">
        <Act
          words={WORDS.setRight}
          kind="box"
          run={() =>
            answer(`${question.sentence.replace(/^Was /, '').replace(/\?$/, '')}: set right`, [
              { kind: 'body-clock', body, ...stretch, offsetMs },
            ])
          }
          consequence={`${frames} move on the day line. What the camera wrote is kept beside it.`}
        />
        <Act
          words={WORDS.clockWasRight}
          kind="box"
          run={() =>
            answer('The clock was right', [{ kind: 'body-clock', body, ...stretch, offsetMs: millisecondsOf(0) }])
          }
          consequence={`${frames} stand where the camera put them.`}
        />
        <Later later={later} />
      </div>
    </>
  );
}

export function BorderQuestion({ question, answer, later }: Asked<'border'>) {
  return (
    <>
      <div className="pair">
        {(
          [
            ['last before', question.before],
            ['first after', question.after],
          ] as const
        ).map(([words, picture]) => (
          <section key={words} className="part">
            <h2>{words}</h2>
            {picture ? <Picture picture={picture} alt="" isWhole /> : <Absent>no frame</Absent>}
          </section>
        ))}
      </div>
      <Reasons reasons={question.reasons} />
      <div className="acts boxes">
        <Act
          words={WORDS.border}
          kind="box"
          run={() =>
            answer(`A session begins at ${clockOf(question.at)}`, [{ kind: 'boundary', at: question.at, is: 'here' }])
          }
          consequence="A session ends here and the next begins."
        />
        <Act
          words={WORDS.runsOn}
          kind="box"
          run={() =>
            answer(`No border at ${clockOf(question.at)}`, [{ kind: 'boundary', at: question.at, is: 'not-here' }])
          }
          consequence="Both sides are one session."
        />
        <Later later={later} />
      </div>
    </>
  );
}

export function ContradictionQuestion({ later }: { readonly later: () => void }) {
  return (
    <>
      <p className="lead">
        What was said last holds until this is settled. Say it again on the rider’s sheet, or take the last answer back
        with Ctrl+Z.
      </p>
      <div className="acts boxes">
        <Later later={later} />
      </div>
    </>
  );
}

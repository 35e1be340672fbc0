/** Questions about passes: whose is this one, and is one of a rider's somebody else's. */
import { useRef, useState } from 'react';
import type { Decision } from '../../core/log/types.js';
import { Act } from '../keys/Act.js';
import { useArrows, useLetter } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockWithTenthsOf } from '../line/lineGeometry.js';
import { GroupLetter, Picture, Plate, Tabs } from '../marks/Marks.js';
import { Absent, Gauge } from '../marks/Voices.js';
import { type Asked, Later } from './QuestionParts.js';
import { RiderMarks } from './RiderTile.js';

const WORDS = SHEET_WORDS.questions;

/** Left and right along boxes that take the focus. */
function useBoxes(count: number) {
  const [at, setAt] = useState(0);
  const boxes = useRef<(HTMLButtonElement | null)[]>([]);
  useArrows({
    across: (step) => {
      const next = Math.min(count - 1, Math.max(0, at + step));
      setAt(next);
      boxes.current[next]?.focus();
    },
  });
  return { at, setAt, boxes };
}

/** One pass and the riders it is likeliest to be of: the current one is joined, or none of them is it. */
export function WhosePassQuestion({ question, answer, later }: Asked<'whose-pass'>) {
  const { shown, ofPoint, pictures } = question;
  const { at, setAt, boxes } = useBoxes(shown.length);
  const current = shown[at];
  const [first, ...more] = pictures;
  const sayIt = (text: string, chosen: readonly number[]) => {
    // Of those who were not looked at nothing is said: one answer is no word about the others but where it is "none".
    const unsure = chosen.length === 0 ? [] : shown.flatMap((_, i) => (chosen.includes(i) ? [] : [i]));
    answer(text, [{ kind: 'line-up', of: ofPoint, shown: shown.map((one) => one.point), chosen, unsure }]);
  };
  return (
    <>
      <div className="line-up whose">
        <section className="part of">
          <h2>This pass</h2>
          {first && <Picture picture={first} alt="The pass that is asked about" />}
          <div className="more-of-pass">
            {more.map((picture) => (
              <Picture key={picture.frameId} picture={picture} alt="" />
            ))}
          </div>
          {question.why && <p className="note pencil-words">{question.why}</p>}
        </section>
        <section className="part">
          <h2>
            Whose is it? <span className="aside">likeliest first, in pencil</span>
          </h2>
          <ol className="candidates">
            {shown.map((one, i) => (
              <li key={one.rider.key}>
                <button
                  ref={(element) => {
                    boxes.current[i] = element;
                  }}
                  type="button"
                  className={i === at ? 'marked' : ''}
                  aria-pressed={i === at}
                  onFocus={() => setAt(i)}
                  onClick={() => setAt(i)}
                >
                  <span className="place">{i + 1}</span>
                  <Picture picture={one.rider.face} alt="" />
                  <RiderMarks rider={one.rider} />
                  <span className="fit">
                    <span className="pencilled">
                      alike <Gauge confidence={one.alike} />
                      {one.group && <GroupLetter group={one.group} />}
                    </span>
                    {one.reasons.slice(0, 3).map((reason) => (
                      <span key={reason} className="pencil-words">
                        {reason}
                      </span>
                    ))}
                  </span>
                </button>
              </li>
            ))}
          </ol>
          <p className="note">Left and right go along; a tap marks one.</p>
        </section>
      </div>
      <div className="acts boxes">
        <Act
          words={WORDS.joinMarked}
          kind="box"
          run={() => current && sayIt(`A pass joined to ${current.rider.livery.words}, ${current.rider.code}`, [at])}
          isOff={!current}
          why="Nobody is marked."
          consequence={current && `It goes into the set of ${current.rider.livery.words}, ${current.rider.code}.`}
        />
        <Act
          words={WORDS.none}
          kind="box"
          run={() => sayIt(`A pass is none of ${shown.length}`, [])}
          consequence={`It is somebody else than these ${shown.length}, and stays out of their sets.`}
        />
        <Later later={later} />
      </div>
    </>
  );
}

type Mark = 'other' | 'unsure';
const NEXT_MARK: Readonly<Record<Mark, Mark | null>> = { other: 'unsure', unsure: null };
const PRESSED = { other: true, unsure: 'mixed' } as const;

/** A rider's doubtful passes beside a sure one: those marked are somebody else's. */
export function OddOneOutQuestion({ question, answer, later }: Asked<'odd-one-out'>) {
  const { shown, of, ofPoint, others } = question;
  const { at, setAt, boxes } = useBoxes(shown.length);
  const [marks, setMarks] = useState<ReadonlyMap<number, Mark>>(new Map());
  const mark = (index: number, next: Mark | null) => {
    const rest = [...marks].filter(([i]) => i !== index);
    setMarks(new Map(next === null ? rest : [...rest, [index, next]]));
  };
  const turn = (index: number) => {
    const before = marks.get(index);
    mark(index, before === undefined ? 'other' : NEXT_MARK[before]);
  };
  useLetter(',', () => turn(at));
  const markedAs = (wanted: Mark) => [...marks].flatMap(([i, one]) => (one === wanted ? [i] : []));
  const [off, unsure] = [markedAs('other'), markedAs('unsure')];
  const stay = shown.flatMap((_, i) => (marks.has(i) ? [] : [i]));
  const sayIt = (text: string) => {
    const lineUp: Decision = {
      kind: 'line-up',
      of: ofPoint,
      shown: shown.map((one) => one.point),
      chosen: stay,
      unsure,
    };
    // What goes differs from every pass that stays, shown or not: else the rest could go along with it.
    const apart = off.flatMap((i) =>
      others.map((other): Decision => ({ kind: 'different-riders', points: [shown[i]!.point, other] })),
    );
    answer(text, [lineUp, ...apart]);
  };
  const unsureWords = unsure.length === 0 ? '' : `; of ${unsure.length} nothing is said`;
  return (
    <>
      <div className="line-up">
        <section className="part of">
          <h2>
            <Tabs livery={of.livery} size="large" />
            {of.number ? <Plate number={of.number} size="large" /> : <Absent>no number read</Absent>}
            <span className="aside code">{of.code}</span>
          </h2>
          <p className="sub">{of.livery.words}</p>
          <Picture picture={of.face} alt={`${of.livery.words}, ${of.code}`} />
        </section>
        <section className="part">
          <h2>
            Mark every one that is somebody else. None is an answer. <span className="aside">least sure first</span>
          </h2>
          <ol className="candidates">
            {shown.map((one, i) => (
              <li key={one.picture.frameId}>
                <button
                  ref={(element) => {
                    boxes.current[i] = element;
                  }}
                  type="button"
                  className={CLASS_OF[marks.get(i) ?? 'none']}
                  aria-pressed={PRESSED[marks.get(i) as Mark] ?? false}
                  onFocus={() => setAt(i)}
                  onClick={() => turn(i)}
                >
                  <span className="place">{i + 1}</span>
                  <span className="tick" aria-hidden="true" />
                  <Picture picture={one.picture} alt={`Pass ${i + 1}, ${one.where}`} />
                  <span className="pass-line">
                    <span className="figure">{clockWithTenthsOf(one.wall)}</span>
                    <span className="pencilled">
                      <Gauge confidence={one.confidence} />
                    </span>
                  </span>
                  <span className="fit">
                    <span>{one.where}</span>
                    {one.why && <span className="pencil-words">{one.why}</span>}
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
          words={WORDS.offMarked}
          kind="box"
          run={() => sayIt(`${off.length} of the passes of ${of.code} are somebody else’s`)}
          isOff={off.length === 0}
          why="Nothing is marked."
          consequence={`${off.length} ${off.length === 1 ? 'pass leaves' : 'passes leave'} the set; the others stay${unsureWords}.`}
        />
        <Act
          words={WORDS.allOne}
          kind="box"
          run={() => sayIt(`${stay.length} passes are ${of.code}`)}
          isOff={off.length > 0 || stay.length === 0}
          why={off.length > 0 ? 'Some are marked.' : 'Nothing would be said.'}
          consequence={`${stay.length} ${stay.length === 1 ? 'pass stays' : 'passes stay'}, by your word${unsureWords}.`}
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

const CLASS_OF = { none: '', other: 'marked', unsure: 'unsure' } as const;

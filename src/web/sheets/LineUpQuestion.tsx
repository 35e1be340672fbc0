/** One rider, up to twelve candidates: mark all that match. None is an answer, and so is not being sure. */
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf, percentAt } from '../line/lineGeometry.js';
import { Plate, Tabs } from '../marks/Marks.js';
import { Wheel } from '../marks/Wheel.js';
import { CantTellRest, MarkedList, MaybeAct, OfRider, useMarks } from './MarkedList.js';
import { type Asked, Later, type Of } from './QuestionParts.js';

const WORDS = SHEET_WORDS.questions;

export function LineUpQuestion({ question, answer, later }: Asked<'line-up'>) {
  const { shown, of } = question;
  const marks = useMarks(shown.length);
  const { marked, unsure, unsureWords } = marks;
  const sayIt = (chosen: readonly number[], open = unsure) =>
    answer(wordsOf(of.code, shown.length, chosen, open), [
      { kind: 'line-up', of: question.ofPoint, shown: shown.map((one) => one.point), chosen, unsure: open },
    ]);
  const gained = marked.reduce((sum, i) => sum + (shown[i]?.rider.goodFrames ?? 0), 0);
  return (
    <>
      {question.stretch && <PassLine question={question} marked={new Set(marked)} />}
      <div className="line-up">
        <OfRider rider={of}>
          <Wheel arcs={of.wheel} size={84} keepers={of.goodFrames} />
        </OfRider>
        <section className="part">
          <h2>
            Mark every one that is this rider. None is an answer.{' '}
            <span className="aside">likeliest first, in pencil</span>
          </h2>
          <MarkedList
            marks={marks}
            shown={shown.map(({ rider, wall, confidence, reasons }) => ({
              key: rider.key,
              picture: rider.face,
              alt: rider.livery.words,
              wall,
              confidence,
              words: (
                <>
                  <span className="one-line">
                    <Tabs livery={rider.livery} />
                    {rider.number && <Plate number={rider.number} />}
                    <b>{rider.livery.words}</b>
                    <span className="code">{rider.code}</span>
                  </span>
                  <span className="fit">
                    {reasons.map((reason) => (
                      <span key={reason} className="pencil-words">
                        {reason}
                      </span>
                    ))}
                  </span>
                </>
              ),
            }))}
          />
        </section>
      </div>
      <div className="acts boxes">
        <Act
          words={WORDS.joinMarked}
          kind="box"
          run={() => sayIt(marked)}
          isOff={marked.length === 0}
          why="Nothing is marked."
          consequence={`${of.code} gains ${gained} good ${gained === 1 ? 'frame' : 'frames'}; the others are somebody else${unsureWords}.`}
        />
        <Act
          words={WORDS.none}
          kind="box"
          run={() => sayIt([])}
          isOff={marked.length > 0 || unsure.length === shown.length}
          why={marked.length > 0 ? 'Some are marked.' : 'Nothing would be said.'}
          consequence={`${unsure.length === 0 ? `All ${shown.length}` : `The other ${shown.length - unsure.length}`} are somebody else${unsureWords}.`}
        />
        <MaybeAct marks={marks} />
        <CantTellRest marks={marks} say={(open) => sayIt(marked, open)} />
        <Later later={later} />
      </div>
    </>
  );
}

function wordsOf(code: string, shown: number, chosen: readonly number[], open: readonly number[]): string {
  if (chosen.length > 0) return `${chosen.length} of a line-up joined to ${code}`;
  return open.length === shown ? `Can’t tell who is ${code}` : `None of ${shown - open.length} is ${code}`;
}

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

/** A rider's doubtful passes beside a sure one: those marked are somebody else's. */
import type { Decision } from '../../core/log/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { CantTellRest, MarkedList, MaybeAct, OfRider, useMarks } from './MarkedList.js';
import { type Asked, Later } from './QuestionParts.js';

const WORDS = SHEET_WORDS.questions;

export function OddOneOutQuestion({ question, answer, later }: Asked<'odd-one-out'>) {
  const { shown, of, ofPoint, others } = question;
  const marks = useMarks(shown.length);
  const { marked, unsure, free, unsureWords } = marks;
  const sayIt = (text: string, chosen = free, open = unsure) => {
    const points = shown.map((one) => one.point);
    const lineUp: Decision = { kind: 'line-up', of: ofPoint, shown: points, chosen, unsure: open };
    // What goes differs from every pass that stays, shown or not: else the rest could go along with it.
    const apart = marked.flatMap((i) =>
      others.map((other): Decision => ({ kind: 'different-riders', points: [shown[i]!.point, other] })),
    );
    answer(text, [lineUp, ...apart]);
  };
  const offWords = `${marked.length} of the passes of ${of.code} are somebody else’s`;
  return (
    <>
      <div className="line-up">
        <OfRider rider={of} />
        <section className="part">
          <h2>
            Mark every one that is somebody else. None is an answer. <span className="aside">least sure first</span>
          </h2>
          <MarkedList
            marks={marks}
            shown={shown.map(({ picture, wall, where, confidence, why }, i) => ({
              key: picture.frameId,
              picture,
              alt: `Pass ${i + 1}, ${where}`,
              wall,
              confidence,
              words: (
                <span className="fit">
                  <span>{where}</span>
                  {why && <span className="pencil-words">{why}</span>}
                </span>
              ),
            }))}
          />
        </section>
      </div>
      <div className="acts boxes">
        <Act
          words={WORDS.offMarked}
          kind="box"
          run={() => sayIt(offWords)}
          isOff={marked.length === 0}
          why="Nothing is marked."
          consequence={`${marked.length} ${marked.length === 1 ? 'pass leaves' : 'passes leave'} the set; the others stay${unsureWords}.`}
        />
        <Act
          words={WORDS.allOne}
          kind="box"
          run={() => sayIt(`${free.length} passes are ${of.code}`)}
          isOff={marked.length > 0 || free.length === 0}
          why={marked.length > 0 ? 'Some are marked.' : 'Nothing would be said.'}
          consequence={`${free.length} ${free.length === 1 ? 'pass stays' : 'passes stay'}, by your word${unsureWords}.`}
        />
        <MaybeAct marks={marks} />
        <CantTellRest
          marks={marks}
          say={(open) => sayIt(marked.length === 0 ? `Can’t tell in ${of.code}` : offWords, [], open)}
        />
        <Later later={later} />
      </div>
    </>
  );
}

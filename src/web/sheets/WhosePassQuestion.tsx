/** One pass and the riders it is likeliest to be of: the current one is joined, or none of them is it. */
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { GroupLetter, Picture } from '../marks/Marks.js';
import { Fit } from './Fit.js';
import { useBoxes } from './MarkedList.js';
import { type Asked, CantTell, Later } from './QuestionParts.js';
import { RiderMarks } from './RiderTile.js';

const WORDS = SHEET_WORDS.questions;

export function WhosePassQuestion({ question, answer, later }: Asked<'whose-pass'>) {
  const { shown, ofPoint, pictures } = question;
  const { at, setAt, boxes } = useBoxes(shown.length);
  const current = shown[at];
  const [first, ...more] = pictures;
  const all = shown.map((_, i) => i);
  // Of those who were not looked at nothing is said: one answer is no word about the others but where it is "none".
  const sayIt = (text: string, chosen: readonly number[], unsure = all.filter((i) => !chosen.includes(i))) =>
    answer(text, [{ kind: 'line-up', of: ofPoint, shown: shown.map((one) => one.point), chosen, unsure }]);
  return (
    <>
      <div className="line-up whose">
        <section className="part of">
          <h2>This pass</h2>
          {first && <Picture picture={first} alt="The pass that is asked about" />}
          {more.length > 0 && (
            <div className="more-of-pass">
              {more.map((picture) => (
                <Picture key={picture.frameId} picture={picture} alt="" />
              ))}
            </div>
          )}
          {question.why && <p className="note pencil-words">{question.why}</p>}
        </section>
        <section className="part">
          <h2>
            Whose is it? <span className="aside">the program’s guess first, then most alike</span>
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
                  <Fit fit={one}>{one.group && <GroupLetter group={one.group} />}</Fit>
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
          run={() => sayIt(`A pass is none of ${shown.length}`, [], [])}
          consequence={`It is somebody else than these ${shown.length}, and stays out of their sets.`}
        />
        <CantTell say={() => sayIt('Can’t tell whose a pass is', [], all)} />
        <Later later={later} />
      </div>
    </>
  );
}

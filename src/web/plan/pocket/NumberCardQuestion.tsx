/** Whose bike is it that a number card is held against? */
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { Picture } from '../../marks/Marks.js';
import { type Asked, Later } from '../../sheets/QuestionParts.js';

const WORDS = SHEET_WORDS.questions;

export function NumberCardQuestion({ question, answer, later }: Asked<'number-card'>) {
  const { card, bikes, person, frame, holder } = question;
  const [first, ...others] = bikes;
  const whose = holder === null ? `card ${card}` : `card ${card}, ${holder}`;
  const tie = (point: (typeof bikes)[number]['point']) =>
    answer(`This bike goes with ${whose}`, [
      { kind: 'rider-is', point, person },
      { kind: 'card-answered', frame, is: 'taken' },
    ]);
  return (
    <>
      <div className="pair">
        {first && (
          <section className="part">
            <h2>held against this one</h2>
            <Picture picture={first.picture} alt="" />
          </section>
        )}
        {others.map((other) => (
          <section key={`${other.point.x} ${other.point.y}`} className="part">
            <h2>also in the picture</h2>
            <Picture picture={other.picture} alt="" />
            <button type="button" className="word" onClick={() => tie(other.point)}>
              This is the one
            </button>
          </section>
        ))}
      </div>
      <div className="acts boxes">
        {first && (
          <Act
            words={WORDS.yesCard}
            kind="box"
            run={() => tie(first.point)}
            consequence={`All of its pictures go with ${whose}. The contact stays apart and can be erased.`}
          />
        )}
        <Act
          words={WORDS.notThisCard}
          kind="box"
          run={() => answer(`Card ${card} is of no bike here`, [{ kind: 'card-answered', frame, is: 'not-taken' }])}
          consequence="Nothing changes, and it is not asked again."
        />
        <Later later={later} />
      </div>
    </>
  );
}

/** Whether a body's clock was wrong, all day or for a part of it. */
import type { Decision } from '../../core/log/types.js';
import { Act } from '../keys/Act.js';
import { clockOf } from '../line/lineGeometry.js';
import { clockAnswersOf, consequenceOf } from '../stores/clockAnswers.js';
import { type Asked, Later, Reasons } from './QuestionParts.js';

export function ClockQuestion({ question, answer, later }: Asked<'clock'>) {
  const { body, offsetMs, standsByMs, example, fromFrame, toFrame, card } = question;
  const stretch = { ...(fromFrame && { fromFrame }), ...(toFrame && { toFrame }) };
  /** A card that was answered is not asked about again, whatever was said. */
  const cardAnswered = (offset: number): readonly Decision[] =>
    card === undefined ? [] : [{ kind: 'card-answered', frame: card, is: offset === offsetMs ? 'taken' : 'not-taken' }];
  return (
    <>
      {example && (
        <dl className="clock-example">
          <div>
            <dt>A frame as recorded</dt>
            <dd className="clock">{clockOf(example.recorded)}</dd>
          </div>
          {standsByMs !== 0 && standsByMs !== offsetMs && (
            <div>
              <dt>as it stands now</dt>
              <dd className="clock">{clockOf(example.stands)}</dd>
            </div>
          )}
          <div>
            <dt>{offsetMs === 0 ? 'if it was right' : 'put right'}</dt>
            <dd className="clock pencil-words">{clockOf(example.corrected)}</dd>
          </div>
        </dl>
      )}
      <Reasons reasons={question.reasons} />
      <div className="acts boxes">
        {clockAnswersOf(question).map((one) => (
          <Act
            key={one.words}
            words={one.words}
            kind="box"
            run={() =>
              answer(one.said, [
                { kind: 'body-clock', body, ...stretch, offsetMs: one.offsetMs },
                ...cardAnswered(one.offsetMs),
              ])
            }
            consequence={consequenceOf(question, one.offsetMs)}
          />
        ))}
        <Later later={later} />
      </div>
    </>
  );
}

/** Riders with enough: now, at the end of the day by the plan kept, and by the one found. All but the first is guessed. */
import type { GainView } from '../../server/lunch/types.js';
import { GroupLetter } from '../marks/Marks.js';

export function GainScale({ gains }: { readonly gains: readonly GainView[] }) {
  return (
    <dl className="gains">
      {gains.map((gain) => (
        <div key={gain.group?.key ?? '-'}>
          <dt>
            {gain.group && <GroupLetter group={gain.group} />} {gain.group?.name ?? 'Group not known'}
          </dt>
          <dd>
            <Scale gain={gain} />
            <span className="pencil-words">{gainWords(gain)}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}

const round = (riders: number): number => Math.round(riders);

const gainWords = ({ riders, now, kept, found }: GainView): string =>
  kept === null
    ? `${now} of ${riders} have enough now; about ${round(found)} by the evening with the plan found`
    : `${now} of ${riders} have enough now; by the evening about ${round(kept)} with yours, about ${round(found)} with the plan found`;

const WIDTH = 220;
const EDGE = 6;

function Scale({ gain: { riders, now, kept, found } }: { readonly gain: GainView }) {
  const at = (count: number): number => EDGE + (riders === 0 ? 0 : (count / riders) * (WIDTH - 2 * EDGE));
  return (
    <svg className="gain-scale" width={WIDTH} height="20" viewBox={`0 0 ${WIDTH} 20`} aria-hidden="true">
      <path className="axis" d={`M${EDGE} 10H${WIDTH - EDGE}M${EDGE} 6V14M${WIDTH - EDGE} 6V14`} />
      <path className="now" d={`M${EDGE} 10H${at(now)}`} />
      <path className="guess" d={`M${at(now)} 10H${at(Math.max(found, kept ?? 0))}`} />
      {kept !== null && <circle className="kept" cx={at(kept)} cy="10" r="4.5" />}
      <path className="found" d={`M${at(found)} 3.5L${at(found) + 5} 10L${at(found)} 16.5L${at(found) - 5} 10Z`} />
    </svg>
  );
}

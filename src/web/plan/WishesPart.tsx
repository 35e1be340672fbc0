/** All that is wished for the plan, to be taken back one by one; what counts more or less, and who shares the day. */
import { useState } from 'react';
import type { PlanView } from '../../server/planTypes.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Initialled } from '../marks/Voices.js';
import { say, takeBack } from '../stores/said.js';
import { skyWords } from './ChosenPart.js';
import type { Chosen } from './planChoice.js';
import { weighedGroup, weighedSpot, wishing, without } from './wishes.js';

const WORDS = SHEET_WORDS.plan;

export function WishesPart({ view, chosen }: { readonly view: PlanView; readonly chosen: Chosen | null }) {
  return (
    <section className="part ask wishes">
      <h2>Wishes</h2>
      <Said view={view} />
      {view.unheard.map((sentence) => (
        <p className="urgent" key={sentence}>
          {sentence}
        </p>
      ))}
      <Weights view={view} chosen={chosen} />
      <Shared view={view} />
    </section>
  );
}

function Said({ view }: { readonly view: PlanView }) {
  if (view.wishes.length === 0 && view.skies.length === 0)
    return <p className="note">None yet, and nobody spoke of the sky: it is taken as clear.</p>;
  return (
    <ul className="rows">
      {view.wishes.map(({ text }, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: two wishes may say the same, and each goes by its place
        <li key={`${i} ${text}`}>
          <Initialled text={text} initials={view.initials} />{' '}
          <button
            type="button"
            className="word"
            onClick={() => void say(`No longer wished: ${text}`, [wishing(view, without(view, i))])}
          >
            No longer<span className="sr">: {text}</span>
          </button>
        </li>
      ))}
      {view.skies.map(({ gesture, from, to, is }) => (
        <li key={gesture}>
          <Initialled text={`${skyWords(is)}, ${clockOf(from)} to ${clockOf(to)}`} initials={view.initials} />{' '}
          <button type="button" className="word" onClick={() => void takeBack(gesture)}>
            Take back<span className="sr">: the sky from {clockOf(from)}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

const TIMES: readonly (readonly [times: number, words: string])[] = [
  [0, 'nothing'],
  [0.5, 'half'],
  [1, 'as it is'],
  [2, 'twice'],
  [3, 'three times'],
];

function Weights({ view, chosen }: { readonly view: PlanView; readonly chosen: Chosen | null }) {
  const [times, setTimes] = useState(2);
  const [group, setGroup] = useState<string | null>(null);
  const meant = view.groups.find(({ key }) => key === group) ?? view.groups[0];
  const words = TIMES.find(([one]) => one === times)?.[1] ?? '';
  if (chosen === null || meant === undefined) return null;
  const { spot } = chosen;
  return (
    <>
      <p className="fields">
        <label htmlFor="plan-times">Counts</label>
        <select id="plan-times" value={times} onChange={(event) => setTimes(Number(event.target.value))}>
          {TIMES.map(([one, name]) => (
            <option key={one} value={one}>
              {name}
            </option>
          ))}
        </select>
        <label htmlFor="plan-group">Group</label>
        <select id="plan-group" value={meant.key} onChange={(event) => setGroup(event.target.value)}>
          {view.groups.map(({ key, name }) => (
            <option key={key} value={key}>
              {name}
            </option>
          ))}
        </select>
      </p>
      <div className="acts">
        <Act
          words={WORDS.weighSpot}
          consequence={`${spot.number} ${spot.name}: ${words}`}
          run={() =>
            void say(`${spot.number} ${spot.name} counts ${words}`, [wishing(view, weighedSpot(view, spot.id, times))])
          }
        />
        <Act
          words={WORDS.weighGroup}
          consequence={`${meant.name}: ${words}`}
          run={() => void say(`${meant.name} counts ${words}`, [wishing(view, weighedGroup(view, meant.key, times))])}
        />
      </div>
    </>
  );
}

function Shared({ view }: { readonly view: PlanView }) {
  const other = view.photographers === 1 ? 2 : 1;
  const wishes = view.wishes.map(({ wish }) => wish);
  return (
    <div className="acts">
      <Act
        words={other === 2 ? WORDS.two : WORDS.alone}
        consequence={view.photographers === 1 ? 'You stand alone now.' : `${view.photographers} share the day now.`}
        run={() =>
          void say(other === 2 ? 'Two share the day' : 'You are alone', [
            wishing({ ...view, photographers: other }, wishes),
          ])
        }
      />
      <Act
        words={view.hasVehicle ? WORDS.onFoot : WORDS.van}
        consequence={view.hasVehicle ? 'A van is driven where ways allow it.' : 'All ways are gone on foot now.'}
        run={() =>
          void say(view.hasVehicle ? 'All on foot' : 'A van may be driven', [
            wishing({ ...view, hasVehicle: !view.hasVehicle }, wishes),
          ])
        }
      />
    </div>
  );
}

/** How many sets are left and how long that may take; so many minutes, and the rest as proposed; how many shall be kept. */
import { useState } from 'react';
import type { ChoosingView } from '../../server/choosing/types.js';
import { desk } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Bar } from '../marks/Marks.js';
import { ask } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { leftOf, passedOver, sit, sitting, turnsOf, withOnly } from './sitting.js';
import { useRest } from './useRest.js';
import { passedOverWords, timeReasons, timeWords } from './words.js';

const WORDS = SHEET_WORDS.choosing;
const MINUTES = 20;

export function LeftPart({ choosing }: { readonly choosing: ChoosingView }) {
  const now = useStore(sitting);
  const rest = useRest();
  const left = leftOf(now);
  const turns = turnsOf(now);
  const all = new Set(leftOf({ ...now, only: null }));
  const passed = passedOver(now).length;
  const below = now.riders.filter(({ key, isBelowLeast }) => isBelowLeast && all.has(key)).length;
  return (
    <section className="part left-part">
      <h2>
        {left.length.toLocaleString('en-GB')} {left.length === 1 ? 'set' : 'sets'} left{' '}
        <span className="aside">
          of {turns.length.toLocaleString('en-GB')}
          {now.only !== null && ` in your ${now.only.minutes} min`}
        </span>
      </h2>
      <Bar done={turns.length - left.length} total={turns.length} label="Sets gone through" />
      {below > 0 && (
        <p className="note">
          {below === 1 ? 'One rider has' : `${below} riders have`} fewer than {choosing.rules.leastPerRider} frames to
          keep; they come first, with the best there is.
        </p>
      )}
      {passed > 0 && <p className="note">{passedOverWords(passed)}</p>}
      <TimeLine choosing={choosing} />
      <div className="acts minutes">
        <Minutes />
        <Act words={WORDS.rest} run={rest} />
      </div>
    </section>
  );
}

function TimeLine({ choosing: { time } }: { readonly choosing: ChoosingView }) {
  const { only, riders } = useStore(sitting);
  if (only !== null)
    return (
      <p>
        The other {(riders.length - only.look.length).toLocaleString('en-GB')} stand as proposed. Who gains most by a
        look comes first{only.pace === 'usual' && ', at a usual pace till yours is known'}.
      </p>
    );
  if (time.kind !== 'guessed') return <p className="note">{timeWords(time)}</p>;
  return (
    <p>
      <span className="pencil-words">{timeWords(time)}</span>{' '}
      <span className="note pencil-words">({timeReasons(time).join('; ')})</span>
    </p>
  );
}

function Minutes() {
  const { only } = useStore(sitting);
  const [minutes, setMinutes] = useState(MINUTES);
  const plan = () =>
    void ask(`${minutes} minutes: who gains most by a look comes first`, async () => {
      const { look, pace } = await desk.soManyMinutes(minutes);
      sit((before) => withOnly(before, { minutes, look, pace }));
    });
  if (only !== null) return <Act words={WORDS.inFull} run={() => sit((before) => withOnly(before, null))} />;
  return (
    <>
      <Act words={WORDS.minutes} run={plan} />
      <label>
        <input
          type="number"
          min={1}
          max={600}
          value={minutes}
          onChange={(event) => setMinutes(Math.min(600, Math.max(1, event.target.valueAsNumber || MINUTES)))}
        />{' '}
        min
      </label>
    </>
  );
}

/** The race number as the rider or the organiser says it: it stands before every one that was read. */
import { useState } from 'react';
import type { RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Initialled } from '../marks/Voices.js';
import { say } from '../stores/said.js';

export function NumberPart({ view }: { readonly view: RiderView }) {
  const [text, setText] = useState('');
  const [group, setGroup] = useState<string | null>(null);
  const point = view.anchors[0];
  if (!point) return null;
  const isNumber = /^\d{1,4}$/.test(text);
  const sayIt = () => {
    setText('');
    const name = view.classes.find(({ key }) => key === group)?.name;
    void say(`${view.rider.code} has number ${text}${name === undefined ? '' : ` in ${name}`}`, [
      { kind: 'rider-is', point, number: text, ...(group === null ? {} : { class: group }) },
    ]);
  };
  return (
    <section className="part ask">
      <h2 id="race-number">Race number, as it is said</h2>
      {view.saidNumber?.class && (
        <p className="note">
          <Initialled text={`${view.saidNumber.number} in ${view.saidNumber.class}`} initials={view.initials} />
        </p>
      )}
      <div className="field">
        <input
          aria-labelledby="race-number"
          inputMode="numeric"
          maxLength={4}
          value={text}
          autoComplete="off"
          onChange={(event) => setText(event.target.value.replace(/\D/g, ''))}
          onKeyDown={(event) => {
            if (event.key === 'Enter' || event.key === 'Escape') event.currentTarget.blur();
          }}
        />
      </div>
      {view.classes.length > 1 && <Classes view={view} group={group} setGroup={setGroup} />}
      <Act words={SHEET_WORDS.rider.number} isOff={!isNumber} why="No number is written yet." run={sayIt} />
    </section>
  );
}

interface ClassesProps {
  readonly view: RiderView;
  readonly group: string | null;
  readonly setGroup: (group: string | null) => void;
}

/** Two classes may have one number each. None need be said. */
function Classes({ view, group, setGroup }: ClassesProps) {
  return (
    <div className="field">
      <label htmlFor="number-class">in the class or group</label>
      <select id="number-class" value={group ?? ''} onChange={(event) => setGroup(event.target.value || null)}>
        <option value="">none is said</option>
        {view.classes.map(({ key, name }) => (
          <option key={key} value={key}>
            {name}
          </option>
        ))}
      </select>
    </div>
  );
}

/** The race number as the rider or the organiser says it: it stands before every one that was read. */
import { useState } from 'react';
import type { RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { say } from '../stores/said.js';

export function NumberPart({ view }: { readonly view: RiderView }) {
  const [text, setText] = useState('');
  const point = view.anchors[0];
  if (!point) return null;
  const isNumber = /^\d{1,4}$/.test(text);
  const sayIt = () => {
    setText('');
    void say(`${view.rider.code} has number ${text}`, [{ kind: 'rider-is', point, number: text }]);
  };
  return (
    <section className="part ask">
      <h2 id="race-number">Race number, as it is said</h2>
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
      <Act words={SHEET_WORDS.rider.number} isOff={!isNumber} why="No number is written yet." run={sayIt} />
    </section>
  );
}

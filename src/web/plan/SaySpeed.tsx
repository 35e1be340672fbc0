/** How quick a group goes by here, as a person says. */
import { useState } from 'react';
import type { LadderView } from '../../server/planTypes.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { say } from '../stores/said.js';

export function SaySpeed({ view }: { readonly view: LadderView }) {
  const [key, setKey] = useState<string | null>(null);
  const [text, setText] = useState('');
  const group = view.columns.find((column) => column.group.key === key)?.group ?? view.columns[0]?.group;
  const kmh = Number(text.trim().replace(',', '.'));
  const isRead = text.trim() !== '' && kmh >= 5 && kmh <= 400;
  if (group === undefined) return null;
  const sayIt = () =>
    void say(`${group.name} at ${kmh} km/h by ${view.spot.number} ${view.spot.name}`, [
      { kind: 'speed-at', spot: view.spot.id, group: group.key, kmh },
    ]).then((isSaid) => isSaid && setText(''));
  return (
    <p className="fields">
      <label htmlFor="speed-group">Group</label>
      <select id="speed-group" value={group.key} onChange={(event) => setKey(event.target.value)}>
        {view.columns.map((column) => (
          <option key={column.group.key} value={column.group.key}>
            {column.group.name}
          </option>
        ))}
      </select>
      <label htmlFor="speed-kmh">km/h here</label>
      <input
        id="speed-kmh"
        inputMode="decimal"
        size={5}
        value={text}
        onChange={(event) => setText(event.target.value)}
      />
      <Act
        words={SHEET_WORDS.plan.speed}
        run={sayIt}
        isOff={!isRead}
        why={text.trim() === '' ? 'Write a speed first.' : 'A speed from 5 to 400 km/h is expected.'}
      />
    </p>
  );
}

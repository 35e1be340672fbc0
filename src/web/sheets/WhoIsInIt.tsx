/** Who is in a frame that is kept apart: said by a person alone, of one place in it, and each place is one rider. */
import { useState } from 'react';
import type { ApartFrameView, ApartView } from '../../server/apartTypes.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { say } from '../stores/said.js';

export interface WhoIsInItProps {
  readonly frame: ApartFrameView;
  readonly riders: ApartView['riders'];
}

export function WhoIsInIt({ frame, riders }: WhoIsInItProps) {
  const [key, setKey] = useState<string>('');
  const [place, setPlace] = useState(0);
  // A place that is somebody already would join two riders.
  const free = frame.places.filter(({ rider }) => rider === null);
  const at = free[Math.min(place, free.length - 1)];
  const rider = riders.find((one) => one.key === key);
  if (riders.length === 0) return null;
  if (at === undefined) return <p className="note">Everybody seen in it is named.</p>;
  return (
    <p className="acts">
      {free.length > 1 && (
        <label>
          <span>The</span>{' '}
          <select value={free.indexOf(at)} onChange={({ target }) => setPlace(Number(target.value))}>
            {free.map(({ words }, i) => (
              <option key={words} value={i}>
                {words}
              </option>
            ))}
          </select>
        </label>
      )}{' '}
      <label>
        <span>{free.length > 1 ? 'is' : 'In it is'}</span>{' '}
        <select value={key} onChange={({ target }) => setKey(target.value)}>
          <option value="">nobody said yet</option>
          {riders.map((one) => (
            <option key={one.key} value={one.key}>
              {one.words}
            </option>
          ))}
        </select>
      </label>{' '}
      <Act
        words={SHEET_WORDS.day.inIt}
        isOff={rider === undefined}
        why="choose who first"
        run={() =>
          rider && void say(`${rider.words} is in it`, [{ kind: 'same-rider', points: [rider.anchor, at.point] }])
        }
      />
    </p>
  );
}

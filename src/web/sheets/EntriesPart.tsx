/** The entry list: pasted or dropped, what is wrong with it, and who booked before the day. Names go to the meeting's people. */
import { useState } from 'react';
import { readEntries, rowsOfText } from '../../core/plan/timetable/index.js';
import type { BeforeView } from '../../server/types.js';
import { desk, newGesture } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Initialled } from '../marks/Voices.js';
import { ask } from '../stores/said.js';
import { TableField } from './TableField.js';
import { Wrongs } from './Wrongs.js';

export function EntriesPart({ view }: { readonly view: BeforeView }) {
  const [text, setText] = useState('');
  const { entries, left, troubles, sameRider } = readEntries(rowsOfText(text), { event: '' });
  const notRead = left.map(({ sentence }) => sentence).filter((sentence) => sentence.startsWith('Line '));
  const booked = entries.filter(({ wants }) => wants !== undefined).length;
  const sayIt = () =>
    void ask(`An entry list of ${entries.length}`, () => desk.entries(newGesture([]).gesture, text)).then(
      (isSaid) => isSaid && setText(''),
    );
  return (
    <section className="part ask">
      <h2>
        <label htmlFor="entries">Entry list</label>
      </h2>
      <SaidEntries view={view} />
      <TableField
        id="entries"
        rows={5}
        text={text}
        setText={setText}
        placeholder={'Class, Number, Name, Wants\nTwins, 27, Ada Example, head-on'}
      />
      <Wrongs sentences={[...notRead, ...troubles]} />
      {text.trim() !== '' && (
        <p className="note">
          {entries.length} {entries.length === 1 ? 'entry' : 'entries'}, {booked} booked before the day.{' '}
          {sameRider.join(' ')}
        </p>
      )}
      <Act
        words={SHEET_WORDS.before.entries}
        run={sayIt}
        isOff={entries.length === 0}
        why="Paste or drop its lines first; numbers under a line that names the columns."
        consequence="Names and contacts are kept apart from what is said, and can be erased."
      />
    </section>
  );
}

function SaidEntries({ view: { entries, initials } }: { readonly view: BeforeView }) {
  if (entries === null) return <p className="note">No entry list is said.</p>;
  const classes = entries.classes.map(({ name, count }) => `${count} ${name}`.trim()).join(', ');
  return (
    <>
      <p>
        <Initialled text={`${entries.count} entries: ${classes}`} initials={initials} />
      </p>
      {entries.booked.length > 0 && (
        <ul className="rows">
          {entries.booked.map(({ number, class: name, wants }) => (
            <li key={`${name} ${number}`}>
              <span className="plate small">{number}</span> {name} wants: {wants}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

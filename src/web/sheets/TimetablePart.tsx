/** The timetable as the organiser wrote it, pasted or dropped: what each line became, before it is taken. */
import { useState } from 'react';
import { readTimetable, rowsOfText } from '../../core/plan/timetable/index.js';
import type { TimetableLine } from '../../core/plan/timetable/types.js';
import type { SlipRule } from '../../core/plan/types.js';
import type { BeforeView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf, lapOf } from '../line/lineGeometry.js';
import { withOtherDays } from '../stores/otherDays.js';
import { say } from '../stores/said.js';
import { readLap } from '../stores/standsText.js';
import { TableField } from './TableField.js';
import { Wrongs } from './Wrongs.js';

export function TimetablePart({ view }: { readonly view: BeforeView }) {
  const [text, setText] = useState(view.timetableText);
  // Said elsewhere or taken back: lines nobody has touched follow; touched ones are left alone.
  const [follows, setFollows] = useState(view.timetableText);
  if (follows !== view.timetableText) {
    setFollows(view.timetableText);
    if (text === follows) setText(view.timetableText);
  }
  const [slipRule, setSlipRule] = useState<SlipRule>(view.slipRule);
  const [lap, setLap] = useState(view.fastestLapMs === null ? '' : lapOf(view.fastestLapMs));
  const { date, days, zone } = view;
  const groups = view.said?.groups ?? [];
  const preview = readTimetable(rowsOfText(text), { date, days, slipRule, zone, groups });
  const lapRead = readLap(lap);
  const { timetable } = preview;
  const wrong = preview.lines.filter(({ kind }) => kind === 'not-understood');
  const isReady = timetable !== null && wrong.length === 0 && lapRead.kind !== 'wrong';
  const sayIt = () => {
    if (timetable === null) return;
    const lapMs = lapRead.kind === 'read' ? { fastestLapMs: lapRead.value } : {};
    const whole = withOtherDays({ ...timetable, ...lapMs }, view.otherDays);
    void say(`A timetable of ${timetable.slots.length} sessions`, [{ kind: 'timetable', timetable: whole }]);
  };
  return (
    <section className="part ask">
      <h2>
        <label htmlFor="timetable">Timetable</label> <span className="aside">{view.date}</span>
      </h2>
      <TableField
        id="timetable"
        rows={12}
        text={text}
        setText={setText}
        placeholder={'N1 Novice 09:00-09:20\nI1 Inters 09:20-09:40'}
      />
      <Wrongs
        sentences={[...wrong.flatMap((line) => ('sentence' in line ? line.sentence : [])), ...preview.troubles]}
      />
      {timetable && (
        <p className="note">
          {timetable.slots.length} sessions; {timetable.groups.map((group) => group.name).join(', ')}.
        </p>
      )}
      {text !== view.timetableText && <ReadLines lines={preview.lines} />}
      <fieldset>
        <legend>When a session is late</legend>
        <label>
          <input
            type="radio"
            name="slip"
            checked={slipRule === 'clock-fixed'}
            onChange={() => setSlipRule('clock-fixed')}
          />{' '}
          a lost minute is lost
        </label>
        <label>
          <input type="radio" name="slip" checked={slipRule === 'sliding'} onChange={() => setSlipRule('sliding')} />{' '}
          everything after it moves
        </label>
      </fieldset>
      <p className="lap">
        <label htmlFor="lap">The fastest lap known here, as 1:35.0; no bike returns sooner</label>
        <input id="lap" value={lap} placeholder="not said" size={8} onChange={(event) => setLap(event.target.value)} />
      </p>
      {lapRead.kind === 'wrong' && <Wrongs sentences={lapRead.sentences} />}
      <Act
        words={SHEET_WORDS.before.sayTimetable}
        kind="main"
        run={sayIt}
        isOff={!isReady}
        why={text.trim() === '' ? 'Write, paste or drop its lines first.' : 'Mend what is named above first.'}
      />
    </section>
  );
}

/** What each line became. A guess is pencilled: it was not in the line. */
function ReadLines({ lines }: { readonly lines: readonly TimetableLine[] }) {
  return (
    <details className="read-lines" open>
      <summary>What each line became</summary>
      <ol className="rows">
        {lines.map((line) => (
          <li key={`${line.at} ${line.text} ${became(line)}`} value={line.at}>
            <span className="figure">{line.at}</span> {became(line)}
            {'guesses' in line && line.guesses.length > 0 && <span className="guessed"> {line.guesses.join(' ')}</span>}
          </li>
        ))}
      </ol>
    </details>
  );
}

function became(line: TimetableLine): string {
  switch (line.kind) {
    case 'session': {
      const { name, start, end, isSighting, isOpenPitLane } = line.slot;
      const what = isSighting ? ', sighting laps' : isOpenPitLane ? ', open pit lane' : '';
      return `${name}, ${line.groupName}, ${clockOf(start)} to ${clockOf(end)}${what}`;
    }
    case 'pause':
      return `${line.pause.name}, ${clockOf(line.pause.start)} to ${clockOf(line.pause.end)}`;
    case 'curfew':
      return `Nobody rides after ${clockOf(line.curfew)}`;
    case 'day':
      return `The day ${line.date}`;
    case 'heading':
      return `${line.group}: the group of the lines below`;
    case 'columns':
      return line.sentence;
    case 'left-out':
      return `“${line.text}”: left out. ${line.sentence}`;
    case 'not-understood':
      return line.sentence;
  }
}

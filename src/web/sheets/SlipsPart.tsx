/** What went otherwise than the timetable said: one gesture each, with what follows from it, and taking it back. */
import { useState } from 'react';
import { slotsOfDay } from '../../core/plan/timetable/index.js';
import type { BeforeView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { Initialled } from '../marks/Voices.js';
import { say, takeBack } from '../stores/said.js';
import { type Gesture, runsOf, slipGestures, slotNow } from '../stores/slips.js';

const WORDS = SHEET_WORDS.before;

export function SlipsPart({ view }: { readonly view: BeforeView }) {
  const runs = runsOf(view);
  const slots = runs === null ? [] : slotsOfDay(runs.timetable, view.date);
  const [chosen, setChosen] = useState<string | null>(null);
  const [minutes, setMinutes] = useState('7');
  const [groupName, setGroupName] = useState('');
  const slot = slots.find(({ name }) => name === chosen)?.name ?? slotNow(slots, view.now);
  const gestures = slipGestures(view, { slot, minutes: Number(minutes.replace(',', '.')), groupName });
  if (gestures === null) return null;
  return (
    <section className="part ask slips">
      <h2>What went otherwise</h2>
      <p className="fields">
        <label htmlFor="slip-slot">Session</label>
        <select id="slip-slot" value={slot} onChange={(event) => setChosen(event.target.value)}>
          {slots.map(({ name, start, end }) => (
            <option key={name} value={name}>
              {name} {clockOf(start)} to {clockOf(end)}
            </option>
          ))}
        </select>
        <label htmlFor="slip-minutes">Minutes</label>
        <input
          id="slip-minutes"
          inputMode="numeric"
          size={4}
          value={minutes}
          onChange={(event) => setMinutes(event.target.value)}
        />
      </p>
      <Say gesture={gestures.late} words={WORDS.late} />
      <Say gesture={gestures.red} words={WORDS.red} />
      <Say gesture={gestures.again} words={WORDS.again} />
      <Say gesture={gestures.lunch} words={WORDS.lunch} />
      <Say gesture={gestures.drop} words={WORDS.drop} />
      <p className="fields">
        <label htmlFor="slip-group">Name of a group more</label>
        <input id="slip-group" size={14} value={groupName} onChange={(event) => setGroupName(event.target.value)} />
      </p>
      <Say gesture={gestures.group} words={WORDS.group} />
      <SaidSlips view={view} />
    </section>
  );
}

/** Long chains of sentences push the words that act apart; the first two say what matters. */
const MOST_SENTENCES = 2;

function Say({ gesture, words }: { readonly gesture: Gesture; readonly words: string }) {
  if (gesture.kind === 'not-now') return <Act words={words} run={() => undefined} isOff why={gesture.why} />;
  const more = gesture.follows.length - MOST_SENTENCES;
  const follows = gesture.follows.slice(0, MOST_SENTENCES).join(' ');
  return (
    <Act
      words={words}
      run={() => void say(gesture.text, gesture.decisions)}
      consequence={`${gesture.text}. ${follows}${more > 0 ? ` And ${more} more.` : ''}`}
    />
  );
}

function SaidSlips({ view }: { readonly view: BeforeView }) {
  if (view.slips.length === 0)
    return <p className="note">Nothing slipped so far: sessions run as the timetable says.</p>;
  return (
    <ul className="rows">
      {view.slips.map(({ gesture, text, sentences }) => (
        <li key={gesture}>
          <Initialled text={text} initials={view.initials} />{' '}
          <button type="button" className="word" onClick={() => void takeBack(gesture)}>
            Take back
          </button>
          {sentences.map((sentence) => (
            <p className="note" key={sentence}>
              {sentence}
            </p>
          ))}
        </li>
      ))}
    </ul>
  );
}

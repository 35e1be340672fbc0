/** All that stands on the map, as a list: what is pressed is held, and the arrows move it. */
import { useId } from 'react';
import type { Circuit } from '../../../core/plan/circuit/types.js';
import type { CircuitHand } from './circuitHand.js';
import { ACCESS_WORDS } from './circuitWords.js';
import { type Held, isSame } from './held.js';

interface Thing {
  readonly held: Held;
  readonly words: string;
  readonly note?: string;
}

interface ThingsListProps {
  readonly circuit: Circuit;
  readonly held: Held;
  readonly hand: CircuitHand;
}

export function ThingsList({ circuit, held, hand }: ThingsListProps) {
  return (
    <ul className="things" aria-label="On the map">
      {thingsOf(circuit).map(({ held: one, words, note }) => (
        <li key={words}>
          <button type="button" className="word" aria-pressed={isSame(one, held)} onClick={() => hand.hold(one)}>
            {words}
          </button>
          {note !== undefined && <span className="aside">{note}</span>}
        </li>
      ))}
    </ul>
  );
}

/** The same in one line, for a phone: the list would push what is said of the held thing far down. */
export function ThingsChoice({ circuit, held, hand }: ThingsListProps) {
  const id = useId();
  const things = thingsOf(circuit);
  const at = things.findIndex((one) => isSame(one.held, held));
  return (
    <p className="word-field things-choice">
      <label htmlFor={id}>On the map</label>
      <select id={id} value={at} onChange={(event) => hand.hold(things[Number(event.target.value)]!.held)}>
        {things.map(({ words, note }, i) => (
          <option key={words} value={i}>
            {note === undefined ? words : `${words}, ${note}`}
          </option>
        ))}
      </select>
    </p>
  );
}

const thingsOf = (circuit: Circuit): readonly Thing[] => [
  ...circuit.spots.map(({ id, number, name, needsPermit }): Thing => {
    const held: Held = { kind: 'spot', id };
    return { held, words: `${number} ${name}`, ...(needsPermit === true ? { note: 'with a permit' } : {}) };
  }),
  ...circuit.bends.map(
    ({ name, alongM }, index): Thing => ({
      held: { kind: 'bend', index },
      words: `Bend: ${name}`,
      note: `${Math.round(alongM)} m`,
    }),
  ),
  ...circuit.ways.map(
    ({ id, onFoot, crossing }): Thing => ({
      held: { kind: 'way', id, point: 0 },
      words: `Way: ${id}`,
      note: `${crossing === 'none' ? '' : `${crossing}, `}on foot ${ACCESS_WORDS[onFoot]}`,
    }),
  ),
  { held: { kind: 'paddock' }, words: 'Paddock' },
  { held: { kind: 'line', point: 0 }, words: 'The line of the track', note: `${circuit.centreline.length} points` },
  { held: { kind: 'cross' }, words: 'The cross' },
];

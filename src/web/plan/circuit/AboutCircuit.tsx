/** What is said of the circuit as a whole, and its file. */

import { edited } from '../../../core/plan/circuit/edit/edited.js';
import { turnLineRound } from '../../../core/plan/circuit/edit/line.js';
import { renameCircuit, sayCircuit } from '../../../core/plan/circuit/edit/words.js';
import { writeCircuit } from '../../../core/plan/circuit/file/writeCircuit.js';
import type { Circuit } from '../../../core/plan/circuit/types.js';
import { metresOf } from '../../../core/units.js';
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { lapOf } from '../../line/lineGeometry.js';
import { readLap } from '../../stores/standsText.js';
import type { CircuitHand, Hand } from './circuitHand.js';
import { saveCircuit } from './saveCircuit.js';
import { ChoiceWord, NumberWord, TextWord } from './WordFields.js';

const WORDS = SHEET_WORDS.circuit;

interface AboutCircuitProps {
  readonly hand: CircuitHand;
  readonly now: Hand;
  readonly bringAnother: () => void;
}

export function AboutCircuit({ hand, now: { circuit }, bringAnother }: AboutCircuitProps) {
  const { name, zone, direction, widthM, lapRecordMs } = circuit;
  const round = () => {
    const turned = turnLineRound(circuit).circuit;
    const other = direction === 'clockwise' ? 'anticlockwise' : 'clockwise';
    hand.change(sayCircuit(turned, { direction: other }), `The bikes go ${other}`);
  };
  const lap = (text: string) => {
    const read = readLap(text);
    const { lapRecordMs: _, ...plain } = circuit;
    if (read.kind !== 'wrong')
      hand.change(edited(read.kind === 'read' ? { ...plain, lapRecordMs: read.value } : plain), 'The lap record');
  };
  return (
    <section className="part ask">
      <h2>The circuit</h2>
      <div className="word-fields">
        <TextWord
          label="Name of the circuit"
          value={name}
          put={(text) => hand.change(renameCircuit(circuit, text), `The circuit is called ${text}`)}
          wrongOf={(text) => (text === '' ? 'Expected a name, but it is empty; the old one stays.' : null)}
        />
        <TextWord
          label="Time zone"
          value={zone}
          put={(text) => hand.change(sayCircuit(circuit, { zone: text }), `The zone ${text}`)}
          wrongOf={wrongZone}
        />
        <ChoiceWord<Circuit['direction']>
          label="The bikes go round"
          value={direction}
          choices={[
            ['clockwise', 'clockwise'],
            ['anticlockwise', 'anticlockwise'],
          ]}
          put={(is) => hand.change(sayCircuit(circuit, { direction: is }), `The bikes go ${is}`)}
        />
        <NumberWord
          label="Width of the track; 12 where nobody says"
          value={widthM}
          from={4}
          to={40}
          unit="m"
          put={(width) => {
            const { widthM: _, ...plain } = circuit;
            const next = width === undefined ? plain : { ...plain, widthM: metresOf(width) };
            hand.change(edited(next), 'The width of the track');
          }}
        />
        <TextWord
          label="Lap record, as 1:35.0"
          value={lapRecordMs === undefined ? '' : lapOf(lapRecordMs)}
          placeholder="not said"
          size={8}
          put={lap}
          wrongOf={(text) => {
            const read = readLap(text);
            return read.kind === 'wrong' ? read.sentences.join(' ') : null;
          }}
        />
      </div>
      <div className="acts">
        <Act words={WORDS.round} run={round} />
        <Act words={WORDS.file} run={() => saveCircuit(circuit.name, writeCircuit(circuit))} />
        <button type="button" className="word" onClick={bringAnother}>
          bring in another file
        </button>
      </div>
      <p className="note">The file is GeoJSON, as any map program shows it. The meeting keeps the circuit as well.</p>
    </section>
  );
}

function wrongZone(text: string): string | null {
  try {
    new Intl.DateTimeFormat('en-GB', { timeZone: text });
    return null;
  } catch {
    return `Expected a time zone such as Europe/London, but found “${text}”; what stood there stays.`;
  }
}

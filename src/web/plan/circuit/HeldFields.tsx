/** What is said of the thing that is held. */
import { moveBend, renameBend } from '../../../core/plan/circuit/edit/line.js';
import { sayPlace as placeWords } from '../../../core/plan/circuit/placeWords.js';
import { layTrack } from '../../../core/plan/circuit/track.js';
import { metresOf } from '../../../core/units.js';
import type { CircuitHand, Hand } from './circuitHand.js';
import { SpotFields } from './SpotFields.js';
import { WayFields } from './WayFields.js';
import { NumberWord, TextWord } from './WordFields.js';

interface HeldFieldsProps {
  readonly hand: CircuitHand;
  readonly now: Hand;
}

export function HeldFields({ hand, now }: HeldFieldsProps) {
  const { circuit, held, cross } = now;
  switch (held.kind) {
    case 'spot': {
      const spot = circuit.spots.find(({ id }) => id === held.id);
      return spot === undefined ? null : <SpotFields circuit={circuit} spot={spot} hand={hand} />;
    }
    case 'way': {
      const way = circuit.ways.find(({ id }) => id === held.id);
      return way === undefined ? null : <WayFields circuit={circuit} way={way} point={held.point} hand={hand} />;
    }
    case 'bend':
      return <BendFields hand={hand} now={now} index={held.index} />;
    case 'line':
      return (
        <div className="word-fields">
          <NumberWord
            label={`Point that the arrows move, of ${circuit.centreline.length}`}
            value={held.point + 1}
            from={1}
            to={circuit.centreline.length}
            unit="th"
            isNeeded
            put={(number = 1) => hand.hold({ kind: 'line', point: Math.round(number) - 1 })}
          />
        </div>
      );
    case 'paddock':
      return <p className="note">Where the van stands and cards are brought in: {placeWords(circuit.paddock)}.</p>;
    case 'cross':
      return (
        <p className="note">
          Where the next thing is set: {placeWords(cross)}. The arrows move it, or a tap on the map.
        </p>
      );
  }
}

function BendFields({ hand, now: { circuit }, index }: HeldFieldsProps & { readonly index: number }) {
  const bend = circuit.bends[index];
  if (bend === undefined) return null;
  const lengthM = Math.floor(layTrack(circuit).lengthM);
  const moveTo = (alongM: number) => {
    const moved = moveBend(circuit, index, metresOf(alongM));
    hand.change(moved, `The bend ${bend.name} moved`, {
      kind: 'bend',
      index: moved.circuit.bends.findIndex(({ name }) => name === bend.name),
    });
  };
  return (
    <div className="word-fields">
      <TextWord
        label="Its name"
        value={bend.name}
        put={(name) => hand.change(renameBend(circuit, index, name), `A bend is called ${name}`)}
        wrongOf={(text) => (text === '' ? 'Expected a name, but it is empty; the old one stays.' : null)}
      />
      <NumberWord
        label="Along the line from the start"
        value={bend.alongM}
        from={0}
        to={lengthM}
        unit="m"
        isNeeded
        put={(alongM = 0) => moveTo(alongM)}
      />
    </div>
  );
}

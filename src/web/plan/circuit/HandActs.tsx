/** What the hand can be told, by one letter each. What cannot be done with what is held is not offered. */
import { Act } from '../../keys/Act.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import type { CircuitHand, Hand } from './circuitHand.js';
import {
  addPoint,
  aimAtTrack,
  beginLineHere,
  endWay,
  newBend,
  newSpot,
  omitPoint,
  overItself,
  removeHeld,
} from './handWords.js';
import { nextHeld, placeOfHeld } from './held.js';

const WORDS = SHEET_WORDS.circuit;

interface HandActsProps {
  readonly hand: CircuitHand;
  readonly now: Hand;
  readonly enterName: () => void;
}

export function HandActs({ hand, now, enterName }: HandActsProps) {
  const { circuit, held, cross, drawing, closeAt } = now;
  if (drawing !== null)
    return (
      <div className="acts">
        <Act words={WORDS.addPoint} kind="main" run={() => hand.tap(cross)} />
        <Act
          words={WORDS.done}
          run={() => endWay(hand)}
          isOff={drawing.length < 2}
          why="A way has two points or more."
        />
        <Act words={WORDS.forget} run={() => hand.draw(null)} />
      </div>
    );
  const begin = () => {
    const from = placeOfHeld(circuit, held, cross) ?? cross;
    hand.hold({ kind: 'cross' });
    hand.draw([from]);
  };
  const isOnLine = held.kind === 'line' || held.kind === 'way';
  const isNamed = held.kind !== 'cross' && held.kind !== 'paddock';
  const isTaken = held.kind === 'spot' || held.kind === 'bend' || held.kind === 'way';
  return (
    <div className="acts">
      <Act words={WORDS.next} run={() => hand.hold(nextHeld(circuit, held))} />
      <Act words={WORDS.spot} run={() => newSpot(hand)} />
      <Act words={WORDS.bend} run={() => newBend(hand)} />
      <Act words={WORDS.way} run={begin} />
      {isNamed && <Act words={WORDS.enter} run={enterName} />}
      {held.kind === 'spot' && <Act words={WORDS.view} run={() => aimAtTrack(hand)} />}
      {isOnLine && <Act words={WORDS.addPoint} run={() => addPoint(hand)} />}
      {isOnLine && <Act words={WORDS.omit} run={() => omitPoint(hand)} />}
      {held.kind === 'line' && <Act words={WORDS.begins} run={() => beginLineHere(hand)} />}
      {held.kind === 'cross' && <Act words={WORDS.overItself} run={() => overItself(hand)} />}
      {isTaken && <Act words={WORDS.remove} run={() => removeHeld(hand)} />}
      <Act words={closeAt === null ? WORDS.zoom : WORDS.zoomOut} run={() => hand.look(closeAt === null)} />
    </div>
  );
}

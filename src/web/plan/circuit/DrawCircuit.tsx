/** The circuit under the hand: map, list and words of what is held. Each change is said at once and can be taken back. */
import { useNavigate } from '@tanstack/react-router';
import { type DragEvent, useEffect, useMemo, useRef, useState } from 'react';
import { changeBetween } from '../../../core/log/circuitEdits.js';
import type { Circuit, CircuitProblem } from '../../../core/plan/circuit/types.js';
import { cutOffWords } from '../../../core/plan/circuit/ways/cutOff.js';
import type { CircuitView } from '../../../server/circuitTypes.js';
import { circuitQuery, queries } from '../../api/queries.js';
import { useArrows, useGoOn } from '../../keys/keyboard.js';
import { Wrongs } from '../../sheets/Wrongs.js';
import { say, takingBack } from '../../stores/said.js';
import { useStore } from '../../stores/store.js';
import { CircuitMap } from '../CircuitMap.js';
import { AboutCircuit } from './AboutCircuit.js';
import { type CircuitHand, createCircuitHand, type Hand } from './circuitHand.js';
import { counted, lengthWords } from './circuitWords.js';
import { FaultList, FaultMarks } from './FaultList.js';
import { HandActs } from './HandActs.js';
import { HandsOnMap } from './HandsOnMap.js';
import { HeldFields } from './HeldFields.js';
import { PermitPart } from './PermitPart.js';
import { ThingsChoice, ThingsList } from './ThingsList.js';
import { UnderImage, UnderImagePart } from './UnderImagePart.js';
import { useUnderImage } from './underImages.js';

interface DrawCircuitProps {
  readonly view: CircuitView;
  readonly circuit: Circuit;
  readonly bringAnother: (dropped: File | null) => void;
}

/** Written down and read back: an older drawing that was still on its way here would be drawn on, and what came after it lost. */
async function sayCircuit(text: string, circuit: Circuit, was: Circuit): Promise<boolean> {
  const of = queries.getQueryData<CircuitView>(circuitQuery.queryKey)?.drawnBy ?? null;
  const change = changeBetween(was, circuit);
  if (change === null) return true;
  const isSaid = await say(text, [
    of === null ? { kind: 'circuit', circuit } : { kind: 'circuit-edit', of, ...change },
  ]);
  await queries.invalidateQueries({ queryKey: circuitQuery.queryKey });
  return isSaid;
}

export function DrawCircuit({ view, circuit, bringAnother }: DrawCircuitProps) {
  const [hand] = useState(() => createCircuitHand(circuit, sayCircuit));
  const now = useStore(hand.store);
  const under = useUnderImage(view.meeting);
  const fields = useRef<HTMLDivElement>(null);
  const { faults } = now;
  const lacking = useMemo(() => cutOffWords(now.atDesk), [now.atDesk]);
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/before' }));
  useEffect(() => hand.follow(circuit), [hand, circuit]);
  useEffect(() => hand.letGo, [hand]);
  useWaitForTakingBack(hand);
  useArrows({
    across: (step, isFar) => hand.step(step * (isFar ? 10 : 1), 0),
    along: (step, isFar) => hand.step(0, -step * (isFar ? 10 : 1)),
  });
  useLetGoOfArrows(hand.letGo);
  const enterName = () => {
    const first = fields.current?.querySelector<HTMLInputElement>('input, select');
    first?.focus();
    if (first instanceof HTMLInputElement) first.select();
  };
  const drop = (event: DragEvent) => {
    const [file] = event.dataTransfer.files;
    if (file === undefined) return;
    event.preventDefault();
    if (file.type.startsWith('image/')) under.take(file);
    else bringAnother(file);
  };
  return (
    <main id="sheet" className="circuit-sheet" onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <header className="opening">
        <h1 className="headline">{headlineOf(now.circuit, faults)}</h1>
        {lacking !== null && <p className="lead">{lacking}</p>}
        <FaultList faults={faults} />
      </header>
      <div className="circuit-columns">
        <section className="part">
          <h2>
            {now.circuit.name} <span className="aside">{lengthWords(now.circuit)}</span>
          </h2>
          <CircuitMap
            circuit={now.circuit}
            fitted={now.atDesk}
            middle={now.closeAt}
            label={`Map of ${now.circuit.name} with ${counted(now.circuit.spots.length, 'spot')}`}
            chosen={now.held.kind === 'spot' ? now.held.id : null}
            under={(sheet) => <UnderImage image={under.image} sheet={sheet} />}
            over={(sheet) => (
              <>
                <FaultMarks faults={faults} sheet={sheet} />
                <HandsOnMap hand={hand} now={now} sheet={sheet} />
              </>
            )}
          />
          <p className="note map-key">
            Dotted is on foot, dashed by vehicle. Arrows move what is held by 1 m, with Shift by 10 m; a tap sets the
            cross.
          </p>
        </section>
        <section className="part ask">
          <h2>
            {heldWords(now)} <span className="aside">held</span>
          </h2>
          <ThingsChoice circuit={now.circuit} held={now.held} hand={hand} />
          <HandActs hand={hand} now={now} enterName={enterName} />
          {now.remark !== null && <Wrongs sentences={[now.remark]} />}
          {/* Escape leaves a field, so that the letters and arrows speak of the map again. */}
          {/* biome-ignore lint/a11y/noStaticElementInteractions: it only hears keys of the fields within */}
          <div
            ref={fields}
            className="held-fields"
            onKeyDown={(event) => event.key === 'Escape' && (event.target as HTMLElement).blur()}
          >
            <HeldFields key={JSON.stringify(now.held)} hand={hand} now={now} />
          </div>
          <ThingsList circuit={now.circuit} held={now.held} hand={hand} />
        </section>
      </div>
      <div className="two-columns">
        <AboutCircuit hand={hand} now={now} bringAnother={() => bringAnother(null)} />
        <div>
          <PermitPart circuit={now.circuit} hasPermit={view.hasPermit} initials={view.initials} />
          <UnderImagePart under={under} circuit={now.circuit} cross={now.cross} />
        </div>
      </div>
    </main>
  );
}

/** What is drawn while something is taken back would else be drawn on what is no more. */
function useWaitForTakingBack(hand: CircuitHand): void {
  useEffect(
    () =>
      takingBack.subscribe(() => {
        const read = async () => {
          await takingBack.get();
          await queries.invalidateQueries({ queryKey: circuitQuery.queryKey });
          const now = queries.getQueryData<CircuitView>(circuitQuery.queryKey)?.circuit;
          if (now) hand.follow(now);
        };
        hand.waitFor(read());
      }),
    [hand],
  );
}

/** A key held down is one change: it is said when the key is let go. */
function useLetGoOfArrows(letGo: () => void): void {
  useEffect(() => {
    const hear = (event: KeyboardEvent) => {
      if (event.key.startsWith('Arrow')) letGo();
    };
    document.addEventListener('keyup', hear);
    window.addEventListener('blur', letGo);
    return () => {
      document.removeEventListener('keyup', hear);
      window.removeEventListener('blur', letGo);
    };
  }, [letGo]);
}

function headlineOf({ name, spots }: Circuit, faults: readonly CircuitProblem[]): string {
  const stands = spots.length === 0 ? 'no spot yet' : counted(spots.length, 'spot');
  return faults.length === 0
    ? `${name}: ${stands}, nothing wrong with the drawing.`
    : `${name}: ${stands}; ${counted(faults.length, 'thing is', 'things are')} wrong with the drawing.`;
}

function heldWords({ circuit, held, drawing }: Hand): string {
  if (drawing !== null) return `A way of ${counted(drawing.length, 'point')} so far`;
  switch (held.kind) {
    case 'spot': {
      const spot = circuit.spots.find(({ id }) => id === held.id);
      return `${spot?.number} ${spot?.name}`;
    }
    case 'bend':
      return `The bend ${circuit.bends[held.index]?.name}`;
    case 'way':
      return `The way ${held.id}, point ${held.point + 1}`;
    case 'line':
      return `The line, point ${held.point + 1}`;
    case 'paddock':
      return 'The paddock';
    case 'cross':
      return 'The cross';
  }
}

/** A circuit brought in: a file is dropped or chosen, looked at with its faults, and taken or not. */
import { type DragEvent, useEffect, useState } from 'react';
import type { Brought } from '../../../core/plan/circuit/readBrought.js';
import type { Circuit } from '../../../core/plan/circuit/types.js';
import type { CircuitView } from '../../../server/circuitTypes.js';
import { desk } from '../../api/client.js';
import { Act } from '../../keys/Act.js';
import { useGoOn } from '../../keys/keyboard.js';
import { SHEET_WORDS } from '../../keys/sheetKeys.js';
import { say } from '../../stores/said.js';
import { CircuitMap } from '../CircuitMap.js';
import { counted, lengthWords } from './circuitWords.js';
import { FaultList, FaultMarks } from './FaultList.js';
import { type Reading, useBrought } from './useBrought.js';
import { TextWord } from './WordFields.js';

const WORDS = SHEET_WORDS.newCircuit;

interface NewCircuitProps {
  readonly view: CircuitView;
  /** A file that was dropped on the circuit there is. */
  readonly dropped: File | null;
  /** A circuit was taken, or the one there is stays. */
  readonly done: () => void;
}

/** A day's recording at its finest is a tenth of it. */
const MOST_MB = 300;

export function NewCircuit({ view, dropped, done }: NewCircuitProps) {
  const [file, setFile] = useState<File | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const takeFile = (chosen: File | undefined) => {
    if (!chosen) return;
    if (chosen.size <= MOST_MB * 1e6) return setFile(chosen);
    setWrong(
      `Expected a recorded lap or a circuit’s file of at most ${MOST_MB} MB, but ${chosen.name} has ${megabytes(chosen)}. Choose the recording alone, of one day.`,
    );
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: a dropped file is read once
  useEffect(() => takeFile(dropped ?? undefined), [dropped]);
  const takeInvented = () => {
    desk.inventedCircuit().then(
      (circuit) => takeCircuit(circuit, done),
      (error: unknown) => setWrong(error instanceof Error ? error.message : String(error)),
    );
  };
  const drop = (event: DragEvent) => {
    if (event.dataTransfer.files.length === 0) return;
    event.preventDefault();
    takeFile(event.dataTransfer.files[0]);
  };
  if (file !== null)
    return (
      <Preview
        key={`${file.name} ${file.size} ${file.lastModified}`}
        file={file}
        view={view}
        done={done}
        back={() => setFile(null)}
      />
    );
  return (
    <main id="sheet" className="circuit-sheet" onDragOver={(event) => event.preventDefault()} onDrop={drop}>
      <header className="opening">
        <h1 className="headline">
          {view.circuit === null ? 'No circuit is drawn yet.' : `Another circuit in place of ${view.circuit.name}?`}
        </h1>
        <p className="lead">
          A lap recorded on a phone is enough: drive one lap and a little more, and save it as GPX or GeoJSON.
        </p>
      </header>
      <section className="part ask">
        <h2>
          <label htmlFor="circuit-file">A recorded lap, or a circuit’s file; it can be dropped anywhere here</label>
        </h2>
        <input
          id="circuit-file"
          type="file"
          accept=".gpx,.geojson,.json,.xml"
          onChange={(event) => {
            takeFile(event.target.files?.[0]);
            event.target.value = '';
          }}
        />
        {wrong !== null && (
          <p className="trouble" role="alert">
            {wrong}
          </p>
        )}
        <div className="acts">
          {view.hasInvented && (
            <Act
              words={WORDS.invented}
              run={takeInvented}
              consequence="To try things on: nobody has ever ridden there."
            />
          )}
          {view.circuit !== null && <Act words={WORDS.back} run={done} />}
        </div>
      </section>
    </main>
  );
}

function takeCircuit(circuit: Circuit, done: () => void): void {
  void say(`The circuit ${circuit.name}, ${lengthWords(circuit)}`, [{ kind: 'circuit', circuit }]).then(
    (isSaid) => isSaid && done(),
  );
}

interface PreviewProps extends Omit<NewCircuitProps, 'dropped'> {
  readonly file: File;
  readonly back: () => void;
}

function Preview({ file, view, done, back }: PreviewProps) {
  const [own] = useState(view.name ?? plainName(file.name));
  const [zone, setZone] = useState(view.zone);
  const [isTurned, setTurned] = useState(false);
  const reading = useBrought(file, { name: own, zone, isTurned });
  useGoOn(null);
  if (reading.brought === null) return <BeingRead file={file} reading={reading} back={back} />;
  return (
    <Looked
      file={file}
      reading={reading}
      brought={reading.brought}
      zone={zone}
      putZone={setZone}
      turn={() => setTurned(!isTurned)}
      isTurned={isTurned}
      done={done}
      back={back}
    />
  );
}

interface BeingReadProps {
  readonly file: File;
  readonly reading: Reading;
  readonly back: () => void;
}

function BeingRead({ file, reading: { share, secondsLeft, wrong }, back }: BeingReadProps) {
  return (
    <main id="sheet" className="circuit-sheet">
      <header className="opening">
        <h1 className="headline">
          {wrong === null ? `Looking for laps in ${file.name}.` : 'The file cannot be read.'}
        </h1>
        {wrong !== null && (
          <p className="trouble" role="alert">
            {wrong}
          </p>
        )}
        {share !== null && (
          <div className="searching">
            <p role="status">
              {Math.floor(share * 100)} % of {megabytes(file)}
              {secondsLeft === null ? '' : `, about ${Math.ceil(secondsLeft)} s left`}.
            </p>
            <span className="bar" aria-hidden="true">
              <i style={{ inlineSize: `${share * 100}%` }} />
            </span>
          </div>
        )}
      </header>
      <div className="acts">
        <Act words={WORDS.back} run={back} />
      </div>
    </main>
  );
}

interface LookedProps extends BeingReadProps {
  readonly brought: Brought;
  readonly zone: string;
  readonly putZone: (zone: string) => void;
  readonly isTurned: boolean;
  readonly turn: () => void;
  readonly done: () => void;
}

function Looked({ file, reading, brought, zone, putZone, isTurned, turn, done, back }: LookedProps) {
  const { problems, sentence, kind } = brought;
  const [name, setName] = useState(brought.circuit?.name ?? '');
  const circuit = brought.circuit !== null && kind === 'recorded' ? { ...brought.circuit, name } : brought.circuit;
  const isSwapped = problems.some((problem) => problem.kind === 'swapped');
  return (
    <main id="sheet" className="circuit-sheet">
      <header className="opening">
        <h1 className="headline">{headlineOf(circuit, file.name)}</h1>
        <p className="lead">
          {capital(sentence)}
          {circuit !== null && kind === 'drawn' && contentWords(circuit)}
          {circuit !== null && problems.length > 0 && ' It can be taken as it is and mended on the map.'}
          {isTurned && ' Latitude and longitude are exchanged, as you said.'}
        </p>
        <FaultList faults={problems} />
      </header>
      <div className="acts">
        <Act
          words={WORDS.take}
          kind="main"
          run={() => circuit && takeCircuit(circuit, done)}
          isOff={circuit === null || reading.share !== null}
          why={circuit === null ? 'Nothing can be drawn from this file: see above.' : 'It is being read again.'}
        />
        {(isSwapped || isTurned) && (
          <Act
            words={WORDS.swap}
            consequence={isTurned ? 'Back to how they stand in the file.' : 'The file stays as it is.'}
            run={turn}
          />
        )}
        <Act words={WORDS.back} run={back} />
      </div>
      {circuit !== null && (
        <div className="circuit-columns">
          <section className="part">
            <h2>
              As it would be <span className="aside">{lengthWords(circuit)}</span>
            </h2>
            <CircuitMap
              circuit={circuit}
              label={`Map of ${circuit.name} as it would be taken`}
              over={(sheet) => <FaultMarks faults={problems} sheet={sheet} />}
            />
          </section>
          {kind === 'recorded' && (
            <section className="part ask">
              <h2>What no recording knows</h2>
              <TextWord label="Its name" value={name} put={setName} />
              <TextWord label="Its time zone, such as Europe/London" value={zone} put={putZone} />
              <p className="note">
                Where the start line is, how wide the track is, which ways there are: all of that is said on the map
                afterwards.
              </p>
            </section>
          )}
        </div>
      )}
    </main>
  );
}

const megabytes = ({ size }: Blob): string =>
  size < 100_000 ? `${Math.ceil(size / 1000)} KB` : `${(size / 1e6).toFixed(1)} MB`;

const headlineOf = (circuit: Circuit | null, file: string): string =>
  circuit === null ? `No circuit can be made of ${file}.` : `Is this ${circuit.name}?`;

const contentWords = ({ spots, ways, bends }: Circuit): string =>
  `${counted(spots.length, 'spot')}, ${counted(ways.length, 'way')}, ${counted(bends.length, 'bend')}.`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const plainName = (file: string): string => file.replace(/\.[^.]*$/, '');

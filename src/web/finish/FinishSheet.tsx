/** One finish for the meeting: its frames as ticks on scales, a mark moved among them, and every picture here follows it. */
import { queryOptions, useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useDeferredValue, useState } from 'react';
import { type Finish, RATIOS, type Ratio } from '../../core/log/finishSaid.js';
import type { FinishSpotView, FinishView } from '../../server/finish/types.js';
import { desk } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Trouble } from '../sheets/Trouble.js';
import { say } from '../stores/said.js';
import { ScalePart } from './ScalePart.js';
import { isSame, moved, SCALES, signedWords, standingWords } from './scales.js';
import { TwoSides } from './TwoSides.js';

const WORDS = SHEET_WORDS.finish;
const FAR_STEPS = 4;

const finishQuery = queryOptions({ queryKey: ['finish'], queryFn: desk.finish });

export function FinishSheet() {
  const { data, error } = useQuery(finishQuery);
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return data.keepers === 0 ? <NoKeepers /> : <Finishing key={JSON.stringify(data.finish)} view={data} />;
}

function NoKeepers() {
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/choosing' }));
  return (
    <main id="sheet">
      <header className="opening">
        <h1 className="headline">No frame is kept yet, so there is nothing to finish.</h1>
        <p className="lead">Space goes to choosing.</p>
      </header>
    </main>
  );
}

/** What is tried lives here until it is said; what is said makes the sheet anew. */
function Finishing({ view }: { readonly view: FinishView }) {
  const navigate = useNavigate();
  const [tried, setTried] = useState<Finish>(view.finish);
  const [at, setAt] = useState(0);
  const [spotAt, setSpotAt] = useState(0);
  const [isSwapped, setSwapped] = useState(false);
  const scale = SCALES[at]!;
  const spot = view.spots[spotAt % view.spots.length]!;
  const shown = useDeferredValue(tried);
  const move = (index: number, value: number) => setTried((before) => SCALES[index]!.withValue(before, value));
  useArrows({
    along: (step) => setAt((before) => (before + step + SCALES.length) % SCALES.length),
    across: (step, isFar) =>
      setTried((before) =>
        scale.withValue(before, moved(scale, scale.valueOf(before), step * (isFar ? FAR_STEPS : 1))),
      ),
  });
  useGoOn(() => void navigate({ to: '/gallery' }));
  const isAsSaid = view.isSaid && isSame(tried, view.finish);
  return (
    <main id="sheet" className="finish-sheet">
      <header className="opening">
        <h1 className="headline">One finish for the meeting.</h1>
        <p className="lead">{standingWords(view)}</p>
      </header>
      <section className="scales">
        <ul>
          {SCALES.map((one, index) => (
            <ScalePart
              key={one.name}
              scale={one}
              value={one.valueOf(tried)}
              ticks={view.ticks}
              isChosen={index === at}
              choose={() => setAt(index)}
              move={(value) => move(index, value)}
            />
          ))}
        </ul>
      </section>
      <section className="tried">
        <p className="sides-head">
          <span>{isSwapped ? 'finished' : 'from the card'}</span>
          <b>{spot.name}</b>
          <span>{isSwapped ? 'from the card' : 'finished'}</span>
        </p>
        <TwoSides spot={spot} finish={shown} isSwapped={isSwapped} />
        <div className="acts">
          <Act
            words={WORDS.finish}
            kind="main"
            isOff={isAsSaid}
            why="This is how they are finished."
            run={() => void say('All are finished so', [{ kind: 'finish', of: 'track', finish: tried }])}
          />
          <Act words={WORDS.swap} run={() => setSwapped((before) => !before)} />
          <Act words={WORDS.next} run={() => setSpotAt((before) => (before + 1) % view.spots.length)} />
          {!isSame(tried, view.finish) && <Act words={WORDS.back} run={() => setTried(view.finish)} />}
        </div>
        <p className="fine">
          Arrows up and down go from scale to scale, left and right move the mark; with Shift by four. Originals are
          never written to.
        </p>
        <KeptApart view={view} tried={tried} />
        <Shapes tried={tried} change={setTried} levelled={view.levelled.length} />
      </section>
      <BySpot spots={view.spots} finish={shown} isSwapped={isSwapped} />
    </main>
  );
}

/** Paddock, portraits, podium and briefing have a finish of their own. */
function KeptApart({ view: { apart }, tried }: { readonly view: FinishView; readonly tried: Finish }) {
  if (apart.frames === 0) return null;
  const frames = apart.frames === 1 ? '1 frame' : `${apart.frames.toLocaleString('en-GB')} frames`;
  return (
    <p className="acts">
      <span className="fine">
        Paddock and podium: {frames}, {apart.said === null ? 'as they were taken' : 'by a finish of their own'}.
      </span>
      <Act
        words={WORDS.keptApart}
        isOff={apart.said !== null && isSame(tried, apart.said)}
        why="This is how they are finished."
        run={() => void say('Those kept apart are finished so', [{ kind: 'finish', of: 'apart', finish: tried }])}
      />
    </p>
  );
}

interface ShapesProps {
  readonly tried: Finish;
  readonly change: (next: Finish) => void;
  readonly levelled: number;
}

function Shapes({ tried, change, levelled }: ShapesProps) {
  const toggled = (ratio: Ratio): readonly Ratio[] =>
    RATIOS.filter((one) => (one === ratio ? !tried.ratios.includes(one) : tried.ratios.includes(one)));
  return (
    <fieldset className="shapes">
      <legend>Level and crops</legend>
      <label>
        <input
          type="checkbox"
          checked={tried.isLevelled}
          onChange={() => change({ ...tried, isLevelled: !tried.isLevelled })}
        />
        Level by what stands upright: sure on {levelled}. A leaning bike is left alone.
      </label>
      {RATIOS.map((ratio) => (
        <label key={ratio}>
          <input
            type="checkbox"
            checked={tried.ratios.includes(ratio)}
            onChange={() => change({ ...tried, ratios: toggled(ratio) })}
          />
          A crop {ratio.replace(':', ' : ')} too
        </label>
      ))}
    </fieldset>
  );
}

const signed = (value: number | null): string => (value === null ? 'not seen' : signedWords(value, 1));

interface BySpotProps {
  readonly spots: readonly FinishSpotView[];
  readonly finish: Finish;
  readonly isSwapped: boolean;
}

function BySpot({ spots, finish, isSwapped }: BySpotProps) {
  return (
    <section className="by-spot">
      <h2 className="sheet-h">The same at every spot</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">spot</th>
            <th scope="col">{isSwapped ? 'finished, from the card' : 'from the card, finished'}</th>
            <th scope="col">stops</th>
            <th scope="col">red over blue</th>
            <th scope="col">frames</th>
          </tr>
        </thead>
        <tbody>
          {spots.map((spot) => (
            <tr key={spot.name}>
              <th scope="row">
                {spot.number !== null && <b>{spot.number}</b>} {spot.name}
              </th>
              <td>
                <TwoSides spot={spot} finish={finish} isSwapped={isSwapped} isSmall />
              </td>
              <td className="figure">{signed(spot.stops)}</td>
              <td className="figure">{signed(spot.warmth)}</td>
              <td className="figure">{spot.frames.toLocaleString('en-GB')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

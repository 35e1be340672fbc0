/** One finish for the meeting: its frames as ticks on scales, a mark moved among them, and every picture here follows it. */
import { queryOptions, useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useDeferredValue, useState } from 'react';
import { type Finish, RATIOS, type Ratio } from '../../core/log/finishSaid.js';
import type { CropsView, FinishSpotView, FinishView } from '../../server/finish/types.js';
import { desk } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Initialled } from '../marks/Voices.js';
import { Trouble } from '../sheets/Trouble.js';
import { say } from '../stores/said.js';
import { cropsQuery } from './CropsSheet.js';
import { FinalsPart } from './FinalsPart.js';
import { KeptPart } from './KeptPart.js';
import { MarkPart } from './MarkPart.js';
import { ScalePart } from './ScalePart.js';
import { isSame, moved, SCALES, signedWords, standingWords } from './scales.js';
import { TwoSides } from './TwoSides.js';
import { useTried } from './useTried.js';

const WORDS = SHEET_WORDS.finish;
const FAR_STEPS = 4;
const USUAL_ASPECT = 1.5;

const finishQuery = queryOptions({ queryKey: ['finish'], queryFn: desk.finish });

/** @param frame one that is to be finished by itself */
export function FinishSheet({ frame }: { readonly frame: string | undefined }) {
  const { data, error } = useQuery(finishQuery);
  const alone = useQuery({ ...cropsQuery(frame), enabled: frame !== undefined });
  const trouble = error ?? alone.error;
  if (trouble) return <Trouble sentence={trouble.message} />;
  if (!data || (frame !== undefined && !alone.data)) return <main id="sheet" aria-busy="true" />;
  if (data.keepers === 0 && data.apart.example === null) return <NoKeepers />;
  const by = frame === undefined ? null : (alone.data ?? null);
  const from = JSON.stringify([data.finish, by?.finish, by?.frameId]);
  return <Finishing key={from} from={from} view={data} alone={by} />;
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

interface FinishingProps {
  readonly from: string;
  readonly view: FinishView;
  readonly alone: CropsView | null;
}

/** What is said makes the sheet anew. */
function Finishing({ from, view, alone }: FinishingProps) {
  const navigate = useNavigate();
  const stands = alone?.isByItself ? alone.finish : view.finish;
  const [tried, setTried] = useTried(from, stands);
  const [at, setAt] = useState(0);
  const [spotAt, setSpotAt] = useState(0);
  const [isSwapped, setSwapped] = useState(false);
  const scale = SCALES[at]!;
  const hasKeepers = view.keepers > 0;
  const spot = alone ? aloneAt(alone) : (view.spots[spotAt % view.spots.length] ?? apartAt(view));
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
        <h1 className="headline">{alone ? 'One frame by itself.' : 'One finish for the meeting.'}</h1>
        <p className="lead">
          {alone ? aloneWords(alone) : standingWords(view)}{' '}
          {!alone && view.isSaid && <Initialled text="Finished so" initials={view.initials} />}
          {alone?.isByItself && <Initialled text="Its own finish" initials={alone.initials} />}
        </p>
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
          {alone && <OnlyThis alone={alone} tried={tried} />}
          {!alone && hasKeepers && (
            <Act
              words={WORDS.finish}
              kind="main"
              isOff={isAsSaid}
              why="This is how they are finished."
              run={() => void say('All are finished so', [{ kind: 'finish', of: 'track', finish: tried }])}
            />
          )}
          <Act words={WORDS.swap} run={() => setSwapped((before) => !before)} />
          {!alone && view.spots.length > 1 && (
            <Act words={WORDS.next} run={() => setSpotAt((before) => (before + 1) % view.spots.length)} />
          )}
          {!isSame(tried, stands) && <Act words={WORDS.back} run={() => setTried(stands)} />}
          {hasKeepers && (
            <Act
              words={WORDS.crops}
              run={() => void navigate({ to: '/finish/crops', search: { frame: spot.example.frameId } })}
            />
          )}
          {alone && <Act words={WORDS.everyOne} run={() => void navigate({ to: '/finish' })} />}
        </div>
        <p className="fine">
          Arrows up and down go from scale to scale, left and right move the mark; with Shift by four. Originals are
          never written to.
        </p>
        {!alone && <KeptApart view={view} tried={tried} shown={shown} isSwapped={isSwapped} />}
        <Shapes tried={tried} change={setTried} levelled={view.levelled.length} />
      </section>
      <div className="beside">
        {hasKeepers && <BySpot spots={view.spots} finish={shown} isSwapped={isSwapped} />}
        <KeptPart tried={tried} change={setTried} />
        <FinalsPart />
        <MarkPart />
      </div>
    </main>
  );
}

const APART_WORDS = 'Paddock and podium';
/** Where no rider has a keeper there is one of those kept apart, or there is no sheet. */
const apartAt = ({ apart }: FinishView): Pick<FinishSpotView, 'name' | 'example'> => ({
  name: APART_WORDS,
  example: apart.example!,
});

interface KeptApartProps {
  readonly view: FinishView;
  readonly tried: Finish;
  readonly shown: Finish;
  readonly isSwapped: boolean;
}

/** Paddock, portraits, podium and briefing have a finish of their own, looked at on one of them. */
function KeptApart({ view: { apart }, tried, shown, isSwapped }: KeptApartProps) {
  if (apart.example === null) return null;
  const frames = apart.frames === 1 ? '1 frame' : `${apart.frames.toLocaleString('en-GB')} frames`;
  return (
    <section className="finished-apart">
      <TwoSides spot={{ name: APART_WORDS, example: apart.example }} finish={shown} isSwapped={isSwapped} isSmall />
      <div>
        <p className="fine">
          {APART_WORDS}: {frames}, {apart.said === null ? 'as they were taken' : 'by a finish of their own'}.{' '}
          {isSwapped ? 'Tried so, and from the card.' : 'From the card, and tried so.'}
        </p>
        <div className="acts">
          <Act
            words={WORDS.keptApart}
            isOff={apart.said !== null && isSame(tried, apart.said)}
            why="This is how they are finished."
            run={() => void say('Those kept apart are finished so', [{ kind: 'finish', of: 'apart', finish: tried }])}
          />
        </div>
      </div>
    </section>
  );
}

const aloneAt = (alone: CropsView): Pick<FinishSpotView, 'name' | 'example'> => ({
  name: alone.spot,
  example: {
    frameId: alone.frameId,
    aspect: alone.widthPx && alone.heightPx ? alone.widthPx / alone.heightPx : USUAL_ASPECT,
  },
});

const aloneWords = ({ at, of, spot, isByItself }: CropsView): string =>
  `Keeper ${at.toLocaleString('en-GB')} of ${of.toLocaleString('en-GB')}, ${spot}. ${
    isByItself ? 'It has a finish of its own.' : 'It is finished like the others.'
  }`;

function OnlyThis({ alone, tried }: { readonly alone: CropsView; readonly tried: Finish }) {
  return (
    <Act
      words={WORDS.only}
      kind="main"
      isOff={isSame(tried, alone.finish)}
      why="This is how it is finished."
      run={() => void say('One frame is finished so', [{ kind: 'finish-of', file: alone.file, finish: tried }])}
    />
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

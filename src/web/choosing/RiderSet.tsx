/** One rider's set: all of it on the left, one of it beside what it is held against on the right. */
import { useQuery } from '@tanstack/react-query';
import { useEffect, useMemo, useRef } from 'react';
import type { ChoosingView, RiderToChooseView } from '../../server/choosing/types.js';
import { useArrows, useLetter } from '../keys/keyboard.js';
import { Plate, Tabs } from '../marks/Marks.js';
import { Absent } from '../marks/Voices.js';
import { Wheel } from '../marks/Wheel.js';
import { useStore } from '../stores/store.js';
import { holdHere } from './ahead.js';
import { ChoosingActs } from './ChoosingActs.js';
import { bikeNames, bikesOf, type Looks, looksByName, looksQuery } from './choosingQueries.js';
import { FullView } from './FullView.js';
import { framesSaid, nameOf, withFramesSaid } from './framesSaid.js';
import { LeftPart } from './LeftPart.js';
import { allPlaces, besidePlace, currentPlace, looking, type Place, rowsOf, stepBeside, stepPlace } from './looking.js';
import { PassLine } from './PassLine.js';
import { SetPart } from './SetPart.js';
import { SideBySide } from './SideBySide.js';
import { sessionLookedAt } from './sessionLookedAt.js';
import { useAfterwards } from './useAfterwards.js';
import { WhyPart } from './WhyPart.js';
import { headlineOf } from './words.js';

export interface RiderSetProps {
  /** As the desk tells it. */
  readonly desk: RiderToChooseView;
  readonly goOn: () => void;
  readonly isLast: boolean;
  readonly choosing: ChoosingView;
}

/** What the key brought is painted before what the next one may bring is sought. */
const SOON_MS = 20;

export function RiderSet({ desk, goOn, isLast, choosing }: RiderSetProps) {
  const said = useStore(framesSaid);
  const state = useStore(looking);
  const view = useMemo(() => withFramesSaid(desk, said), [desk, said]);
  const current = currentPlace(view, state);
  const beside = besidePlace(view, state, current);
  const looks = useLooks(desk, [current, beside]);
  useArrows({ across: (step, isFar) => looking.update((before) => stepPlace(view, before, step, isFar)) });
  useLetter(',', () => looking.update((before) => stepBeside(view, before)));
  useAfterwards(() => holdHere(view, looks, current), [view, looks, current ? nameOf(current.frame) : ''], SOON_MS);
  const session = current?.pass.sessionIndex ?? null;
  useAfterwards(() => sessionLookedAt.set(session), [session]);
  useEffect(() => () => sessionLookedAt.set(null), []);
  return (
    <main id="sheet" className={`choosing-sheet${state.isFull ? ' full' : ''}`}>
      <Head view={view} />
      {!state.isFull && (
        <SetPart view={view} rows={rowsOf(view, state.showsEveryPass)} current={current} choosing={choosing} />
      )}
      <section className="closely" aria-label="Looked at closely">
        {current && <Closely view={view} current={current} beside={beside} looks={looks} isFull={state.isFull} />}
        <ChoosingActs view={view} current={current} beside={beside} goOn={goOn} isLast={isLast} />
        {current && !state.isFull && (
          <div className="closely-under">
            <WhyPart view={view} current={current} />
            <LeftPart choosing={choosing} />
          </div>
        )}
      </section>
    </main>
  );
}

/** Of all frames that may come to stand beside each other; the ones asked for first are kept for as long as the rider stands there. */
function useLooks(desk: RiderToChooseView, shown: readonly (Place | null)[]): Looks {
  const bikes = useRef(bikesOf(desk)).current;
  const besides = bikeNames(shown.flatMap((place) => place?.pass.frames ?? []));
  const more = [...new Set(besides)].filter((bike) => !bikes.includes(bike));
  const { data } = useQuery(looksQuery(bikes));
  const { data: moreData } = useQuery(looksQuery(more));
  return useMemo(() => new Map([...looksByName(data), ...looksByName(moreData)]), [data, moreData]);
}

function Head({ view }: { readonly view: RiderToChooseView }) {
  const { rider } = view;
  const kept = allPlaces(rowsOf(view, false)).length;
  return (
    <header className="choosing-head">
      <Tabs livery={rider.livery} size="large" />
      {rider.number ? <Plate number={rider.number} size="large" /> : <Absent>no number read</Absent>}
      <div>
        <h1 className="head">{headlineOf(view, kept)}</h1>
        {view.lacks.length > 0 && <p className="note">{view.lacks.join(' ')}</p>}
      </div>
      <span className="code">{rider.code}</span>
      {rider.wheel.length > 0 && <Wheel arcs={rider.wheel} size={40} />}
    </header>
  );
}

interface CloselyProps {
  readonly view: RiderToChooseView;
  readonly current: Place;
  readonly beside: Place | null;
  readonly looks: Looks;
  readonly isFull: boolean;
}

function Closely({ view, current, beside, looks, isFull }: CloselyProps) {
  if (isFull) return <FullView current={current} beside={beside} looks={looks} initials={view.initials} />;
  return (
    <>
      <PassLine current={current} beside={beside} />
      <SideBySide current={current} beside={beside} looks={looks} initials={view.initials} />
    </>
  );
}

/** Choosing: rider after rider, the set that is proposed on the screen at once, each of it put right by one letter. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useEffect, useRef } from 'react';
import type { ChoosingView } from '../../server/choosing/types.js';
import { Act } from '../keys/Act.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Trouble } from '../sheets/Trouble.js';
import { sayNow } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { fetchAhead } from './ahead.js';
import { choosingQuery, toChooseQuery } from './choosingQueries.js';
import { hear } from './framesSaid.js';
import { LeftPart } from './LeftPart.js';
import { goneThrough } from './looking.js';
import { RiderSet } from './RiderSet.js';
import { leftOf, nextOf, sit, sitting, stepRider, turnsOf, upcoming, wentOn } from './sitting.js';
import { useRest } from './useRest.js';
import { useSeat } from './useSeat.js';

const WORDS = SHEET_WORDS.choosing;

export function ChoosingSheet({ asked }: { readonly asked: string | undefined }) {
  const { data, error } = useQuery(choosingQuery);
  const { at } = useStore(sitting);
  useSeat(data, asked);
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  if (data.riders.length === 0) return <NobodyYet />;
  if (at === null) return <main id="sheet" aria-busy="true" />;
  return at === 'over' ? <Over view={data} /> : <AtRider key={at} riderKey={at} choosing={data} />;
}

function NobodyYet() {
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/' }));
  return (
    <main id="sheet">
      <header className="opening">
        <h1 className="headline">Nobody is in the pictures yet, so there is nothing to choose from.</h1>
        <p className="lead">Bring in a card on the day’s sheet; Space goes there.</p>
      </header>
    </main>
  );
}

/** Everybody had their turn, or those of the minutes had. */
function Over({ view }: { readonly view: ChoosingView }) {
  const navigate = useNavigate();
  const now = useStore(sitting);
  const rest = useRest();
  useGoOn(() => void navigate({ to: '/finish' }));
  useArrows({ along: (step) => sit((before) => stepRider(before, step)) });
  const open = leftOf({ ...now, only: null }).length;
  const sets = `${view.keepers.toLocaleString('en-GB')} frames of ${view.riders.length.toLocaleString('en-GB')} riders are kept.`;
  return (
    <main id="sheet">
      <header className="opening">
        <h1 className="headline">
          {open === 0
            ? 'Every set was gone through.'
            : `${turnsOf(now).length} sets were gone through in your minutes.`}
        </h1>
        <p className="lead">
          {sets} {open > 0 && `The other ${open} stand as proposed once you say so. `}Space goes on to the finish; an
          arrow up goes back.
        </p>
      </header>
      {open > 0 && (
        <div className="acts">
          <Act words={WORDS.rest} kind="main" run={rest} />
          <Act
            words={WORDS.inFull}
            run={() => sit((before) => ({ ...before, only: null, at: nextOf({ ...before, only: null }) }))}
          />
        </div>
      )}
    </main>
  );
}

/** A second press comes sooner than anybody has seen the next set: it was meant for the one before. */
const TOO_SOON_MS = 250;
const RIDERS_AHEAD = 3;

function AtRider({ riderKey, choosing }: { readonly riderKey: string; readonly choosing: ChoosingView }) {
  const { data, error } = useQuery(toChooseQuery(riderKey));
  const now = useStore(sitting);
  const seenSince = useRef(Number.POSITIVE_INFINITY);
  useEffect(() => {
    if (data) hear(data);
  }, [data]);
  const isThere = data !== undefined || error !== null;
  useEffect(() => {
    if (isThere) seenSince.current = performance.now();
  }, [isThere]);
  useAhead();
  const goOn = () => {
    if (performance.now() - seenSince.current < TOO_SOON_MS) return;
    const said = data ? goneThrough(data) : null;
    const gesture = said && data ? sayNow(`${data.rider.code}’s set was gone through`, [said]) : null;
    sit((before) => wentOn(before, gesture));
  };
  useGoOn(goOn);
  useArrows({ along: (step) => sit((before) => stepRider(before, step)) });
  if (error) return <Trouble sentence={error.message} />;
  if (!data)
    return (
      <main id="sheet" className="choosing-sheet" aria-busy="true">
        <LeftPart choosing={choosing} />
      </main>
    );
  return <RiderSet desk={data} goOn={goOn} isLast={nextOf(now) === 'over'} choosing={choosing} />;
}

/** What comes next is there before it is gone to. */
function useAhead(): void {
  const now = useStore(sitting);
  const next = upcoming(now).slice(0, RIDERS_AHEAD).join(' ');
  useEffect(() => {
    // What cannot be fetched ahead is asked for once more when it is gone to, and says what is wrong then.
    fetchAhead(next === '' ? [] : next.split(' ')).catch(() => undefined);
  }, [next]);
}

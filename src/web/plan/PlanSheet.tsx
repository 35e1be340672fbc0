/** The plan: light at each spot through the day, one's way over it, what is wished, and from which shutter to start. */
import { useQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import type { SpotId } from '../../core/ids.js';
import type { PlanView } from '../../server/planTypes.js';
import type { DayView } from '../../server/types.js';
import { planQuery } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Trouble } from '../sheets/Trouble.js';
import { useStore } from '../stores/store.js';
import { ChosenPart } from './ChosenPart.js';
import { CircuitMap } from './CircuitMap.js';
import { DayList } from './DayList.js';
import { LadderPart } from './LadderPart.js';
import { chosenOf, movedAcross, movedAlong, photographerShown, planChoice, sessionAt } from './planChoice.js';
import { routeOf } from './routeOf.js';
import { SearchPart } from './SearchPart.js';
import { SunRows } from './SunRows.js';
import { WishesPart } from './WishesPart.js';

const WORDS = SHEET_WORDS.plan;

export function PlanSheet({ day }: { readonly day: DayView }) {
  const { data, error } = useQuery(planQuery(day.line.date));
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/' }));
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return <Drawn view={data} day={day} />;
}

function Drawn({ view, day }: { readonly view: PlanView; readonly day: DayView }) {
  const choice = useStore(planChoice);
  const shownAs = useStore(photographerShown);
  const photographer = Math.min(shownAs, view.sheets.length - 1);
  useArrows({
    across: (step, isFar) => planChoice.update((before) => movedAcross(view, before, step, isFar)),
    along: (step) => planChoice.update((before) => movedAlong(view, before, step)),
  });
  const chosen = chosenOf(view, choice);
  const stands = view.sheets[photographer]?.stands ?? [];
  const choose = (spot: SpotId, at: number) => {
    const session = sessionAt(view, at);
    planChoice.set({ spot, first: session, last: session });
  };
  return (
    <main id="sheet" className="plan-sheet">
      <header className="opening">
        <h1 className="headline">{view.headline}</h1>
        {view.lead.map((sentence) => (
          <p className="lead" key={sentence}>
            {sentence}
          </p>
        ))}
        {view.circuit === null && (
          <p className="lead">
            <Link to="/circuit">Draw the circuit</Link>, bring in a recorded lap, or take the invented one.
          </p>
        )}
        {view.cutOff !== null && (
          <p className="urgent">
            {view.cutOff} <Link to="/circuit">To the circuit’s sheet</Link>
          </p>
        )}
        {view.sessions.length === 0 && (
          <p className="lead">
            Say the timetable under <Link to="/before">before</Link>.
          </p>
        )}
        <Followed view={view} />
        <SearchPart view={view} />
      </header>
      {view.sun.length > 0 && <SunRows view={view} line={day.line} stands={stands} chosen={chosen} choose={choose} />}
      <div className="plan-columns">
        <div>
          <MapColumn view={view} photographer={photographer} chosen={chosen?.spot.id ?? null} />
          <Cautions view={view} />
        </div>
        <div>
          <section className="part">
            <h2>
              Run sheet <Photographers view={view} photographer={photographer} />
            </h2>
            <DayList view={view} photographer={photographer} />
            <Papers view={view} photographer={photographer} />
          </section>
          {view.missing.length === 0 && <WishesPart view={view} chosen={chosen} />}
        </div>
        <div>
          {chosen && <ChosenPart view={view} chosen={chosen} photographer={photographer} />}
          {chosen && view.circuit && (
            <LadderPart date={view.date} spot={chosen.spot.id} at={chosen.from} initials={view.initials} />
          )}
        </div>
      </div>
    </main>
  );
}

/** After a slip the plan follows by itself: what that did to it. */
const Followed = ({ view }: { readonly view: PlanView }) =>
  view.followed.length === 0 ? null : (
    <section className="followed" aria-label="What slipped since this plan was taken">
      <p>
        <b>The plan follows what slipped since it was taken.</b>
      </p>
      <ul>
        {view.followed.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  );

function MapColumn({
  view,
  photographer,
  chosen,
}: {
  readonly view: PlanView;
  readonly photographer: number;
  readonly chosen: SpotId | null;
}) {
  const { circuit } = view;
  if (circuit === null) return null;
  const sheet = view.sheets[photographer];
  return (
    <section className="part">
      <h2>
        {circuit.name} <span className="aside">{circuit.direction}</span>
      </h2>
      <CircuitMap
        circuit={circuit}
        label={`Map of ${circuit.name} with ${circuit.spots.length} spots`}
        suns={new Map((sheet?.suns ?? []).map(({ spot, azimuthDeg }) => [spot, azimuthDeg]))}
        stands={new Set((sheet?.stands ?? []).map(({ spot }) => spot.id))}
        route={routeOf(sheet?.rows ?? [], view.now)}
        means={{ hasPermit: view.hasPermit ?? false, hasVehicle: view.hasVehicle }}
        chosen={chosen}
      />
      <p className="note">
        The tick on a rim: where the sun stands while you are there. Dotted is on foot, dashed by vehicle.{' '}
        <Link to="/circuit">Draw or change it</Link>
      </p>
    </section>
  );
}

/** Whose day is drawn, where more than one share it. */
function Photographers({ view, photographer }: { readonly view: PlanView; readonly photographer: number }) {
  if (view.sheets.length === 1) return null;
  return (
    <span className="aside">
      {[...view.sheets.keys()].map((i) => (
        <button
          key={i}
          type="button"
          className="word"
          aria-pressed={i === photographer}
          onClick={() => photographerShown.set(i)}
        >
          photographer {i + 1}
        </button>
      ))}
    </span>
  );
}

/** Of the plan that stands: what is only found is nobody's yet. */
function Papers({ view, photographer }: { readonly view: PlanView; readonly photographer: number }) {
  const query = `date=${view.date}&photographer=${photographer}`;
  const isOff = view.shown === 'found' || view.shown === 'none';
  const why = view.shown === 'found' ? 'Take the plan first.' : 'There is no plan yet.';
  return (
    <div className="acts">
      <Act
        words={WORDS.paper}
        run={() => window.open(`/api/plan/run-sheet.pdf?${query}`, '_blank', 'noopener')}
        isOff={isOff}
        why={why}
      />
      <Act
        words={WORDS.calendar}
        run={() => window.location.assign(`/api/plan/run-sheet.ics?${query}`)}
        isOff={isOff}
        why={why}
      />
    </div>
  );
}

const Cautions = ({ view }: { readonly view: PlanView }) => (
  <section className="part">
    <h2>Before and above the plan</h2>
    <ul className="rows cautions">
      {view.cautions.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  </section>
);

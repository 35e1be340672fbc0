/** One rider through the day: wheel, sessions as columns, passes in them; taking out, joining, dividing. */
import { useQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { useEffect } from 'react';
import type { PassFrameView, RiderView } from '../../server/types.js';
import { riderQuery } from '../api/queries.js';
import { LawPart } from '../handover/LawPart.js';
import { Act } from '../keys/Act.js';
import { useArrows, useGoOn, useLetter } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { isWithin, type Stretch } from '../line/stretch.js';
import { FrameMark, Plate, Tabs } from '../marks/Marks.js';
import { Absent, Initialled, Voice } from '../marks/Voices.js';
import { Wheel } from '../marks/Wheel.js';
import { allPasses, NOTHING_MARKED, riderSheet, stepFrame, stepPass } from '../stores/riderSheet.js';
import { say } from '../stores/said.js';
import { useStore } from '../stores/store.js';
import { BarPart } from './BarPart.js';
import { CardHeld } from './CardHeld.js';
import { IsThisTheOne } from './IsThisTheOne.js';
import { Joining } from './Joining.js';
import { NumberPart } from './NumberPart.js';
import { PassBlock } from './PassBlock.js';
import { PerhapsPart } from './PerhapsPart.js';
import { RiderTile } from './RiderTile.js';
import { SettleAct, Settled } from './SettledPart.js';
import { HeldTo } from './StretchSheet.js';
import { Trouble } from './Trouble.js';

const WORDS = SHEET_WORDS.rider;

export interface RiderSheetProps {
  readonly riderKey: string;
  readonly frame: string | undefined;
  /** Whether the bike of that frame is the one somebody pointed at. */
  readonly asksThisOne: boolean;
  readonly stretch: Stretch | null;
}

export function RiderSheet({ riderKey, frame, asksThisOne, stretch }: RiderSheetProps) {
  const { data, error, isPlaceholderData } = useQuery(riderQuery(riderKey, frame));
  // Another rider's sheet begins with nothing marked.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key alone says that the sheet changed
  useEffect(() => riderSheet.set(NOTHING_MARKED), [riderKey]);
  if (error) return <Trouble sentence={error.message} />;
  // The rider shown before keeps their place only where the address still means them.
  if (!data || (isPlaceholderData && data.rider.key !== riderKey)) return <main id="sheet" aria-busy="true" />;
  return <Sheet view={data} pointedAt={asksThisOne ? frame : undefined} stretch={stretch} />;
}

/** The passes of the stretch. Decisions are made of the whole view: what is not shown is still this rider's. */
function heldTo(view: RiderView, stretch: Stretch | null): RiderView {
  if (stretch === null) return view;
  const sessions = view.sessions
    .map((session) => ({ ...session, passes: session.passes.filter((pass) => isWithin(stretch, pass.start)) }))
    .filter((session) => session.passes.length > 0);
  const perhaps = view.perhaps.filter((pass) => isWithin(stretch, pass.start));
  return { ...view, sessions, perhaps, without: [] };
}

interface SheetProps {
  readonly view: RiderView;
  readonly pointedAt: string | undefined;
  readonly stretch: Stretch | null;
}

function Sheet({ view, pointedAt, stretch }: SheetProps) {
  const shown = heldTo(view, stretch);
  const state = useStore(riderSheet);
  const navigate = useNavigate();
  const isAsking = state.asking !== null;
  const go = (key: string | null) => key !== null && void navigate({ to: '/riders/$key', params: { key }, search: {} });
  useArrows(
    {
      across: (step, isFar) => riderSheet.update((before) => stepPass(shown, before, step, isFar)),
      along: (step) => go(step === 1 ? view.next : view.previous),
    },
    !isAsking,
  );
  useGoOn(isAsking ? null : () => (view.next ? go(view.next) : void navigate({ to: '/questions' })));
  useLetter(',', () => riderSheet.update((before) => stepFrame(shown, before)), !isAsking);
  return (
    <main id="sheet" className="rider-sheet">
      <About view={view} pointedAt={pointedAt} isAsking={isAsking} goNext={() => go(view.next)} />
      <Asked view={view} shown={shown} stretch={stretch} />
    </main>
  );
}

/** The passes, or what is asked about them just now. */
function Asked({ view, shown, stretch }: SessionsProps) {
  const { asking } = useStore(riderSheet);
  switch (asking) {
    case null:
      return <Sessions view={view} shown={shown} stretch={stretch} />;
    case 'join-marked':
    case 'join-whole':
      return <Joining view={view} isWhole={asking === 'join-whole'} />;
    case 'bar-frame':
    case 'bar-rider':
      return <BarPart view={view} isRider={asking === 'bar-rider'} />;
    case 'law':
      return <LawPart view={view} />;
  }
}

interface AboutProps {
  readonly view: RiderView;
  readonly pointedAt: string | undefined;
  readonly isAsking: boolean;
  readonly goNext: () => void;
}

function About({ view, pointedAt, isAsking, goNext }: AboutProps) {
  const { rider } = view;
  const missed = rider.wheel.filter((arc) => arc.state === 'missed');
  return (
    <aside className="about">
      <p className="identity">
        <Tabs livery={rider.livery} size="large" />
        {rider.number ? <Plate number={rider.number} size="large" /> : <Absent>no number read</Absent>}
        <span className="code">{rider.code}</span>
      </p>
      <h1 className="head">{view.sentence}</h1>
      {!isAsking && <CardHeld view={view} />}
      {!isAsking && pointedAt !== undefined && <IsThisTheOne view={view} frame={pointedAt} />}
      <div className="wheel-and-words">
        {rider.wheel.length > 0 ? (
          <Wheel arcs={rider.wheel} size={132} keepers={view.keepers} />
        ) : (
          <Absent>no spots are said</Absent>
        )}
        <div>
          <KeptFigure view={view} />
          <p className="note">
            of {rider.frames} {rider.frames === 1 ? 'frame' : 'frames'} in {view.passes}{' '}
            {view.passes === 1 ? 'pass' : 'passes'}; {rider.goodFrames} good
          </p>
          {missed.length > 0 && (
            <p className="note">Missed at {missed.map((arc) => `${arc.number} ${arc.name}`).join(', ')}</p>
          )}
        </div>
      </div>
      {!isAsking && (
        <div className="acts">
          <Act words={WORDS.sameAs} run={() => riderSheet.update((state) => ({ ...state, asking: 'join-whole' }))} />
          {view.next && <Act words={WORDS.nextRider} run={goNext} />}
          <InstructsAct view={view} />
          <SettleAct view={view} />
          <Act words={WORDS.rights} run={() => riderSheet.update((state) => ({ ...state, asking: 'law' }))} />
          {!view.isBarred && (
            <Act words={WORDS.hide} run={() => riderSheet.update((state) => ({ ...state, asking: 'bar-rider' }))} />
          )}
        </div>
      )}
      <Settled view={view} />
      <Instructs view={view} />
      {view.isBarred && (
        <p className="note">
          <Initialled text="in no gallery" initials={view.initials} /> once the gallery is made again.
        </p>
      )}
      <Alike view={view} />
      <KeptAtSpots view={view} />
      {!isAsking && <NumberPart key={rider.key} view={view} />}
      <Why view={view} />
    </aside>
  );
}

/** Whether this rider rides with every group: a guess with its figure, or a person's word. */
function Instructs({ view }: { readonly view: RiderView }) {
  if (view.instructs === null) return null;
  return (
    <p className="note">
      {view.instructs.kind === 'said' ? (
        <Initialled text="instructs" initials={view.initials} />
      ) : (
        <span className="pencil-words">perhaps instructs: {view.instructs.words}</span>
      )}{' '}
      and is left out of counts.
    </p>
  );
}

function InstructsAct({ view }: { readonly view: RiderView }) {
  const point = view.anchors[0];
  if (!point) return null;
  const is = view.instructs === null;
  const words = is ? WORDS.instructs : WORDS.noInstructor;
  return (
    <Act
      words={words}
      run={() =>
        void say(`${view.rider.code} ${is ? 'instructs' : 'is no instructor'}`, [{ kind: 'instructor', point, is }])
      }
    />
  );
}

/** Riders on bikes that look the same: each one step away, so that they can be told apart by eye. */
function Alike({ view }: { readonly view: RiderView }) {
  if (view.alike.length === 0) return null;
  return (
    <section className="part">
      <h2>
        Looks the same <span className="aside">told apart by little</span>
      </h2>
      <ul className="tiles">
        {view.alike.map((rider) => (
          <RiderTile key={rider.key} rider={rider} />
        ))}
      </ul>
    </section>
  );
}

/** How many are kept: what is proposed in pencil, what a person said signed. */
function KeptFigure({ view }: { readonly view: RiderView }) {
  const frames = allPasses(view).flatMap((pass) => pass.frames);
  const said = frames.filter((frame) => frame.kept === 'kept-by-person').length;
  const proposed = Math.max(0, view.keepers - said);
  return (
    <p className="figure">
      {(proposed > 0 || said === 0) && <span className="pencilled">{proposed} proposed</span>}
      {said > 0 && (
        <>
          {proposed > 0 && ', '}
          <Initialled text={`${said} kept`} initials={view.initials} />
        </>
      )}
    </p>
  );
}

/** What is kept at each spot, from the frames on this sheet. */
function KeptAtSpots({ view }: { readonly view: RiderView }) {
  if (view.rider.wheel.length === 0) return null;
  const framesAt = (number: number) =>
    allPasses(view)
      .filter((pass) => pass.spot?.number === number)
      .flatMap((pass) => pass.frames);
  const isKept = (frame: PassFrameView) => frame.kept === 'proposed' || frame.kept === 'kept-by-person';
  return (
    <section className="part">
      <h2>
        Kept at each spot <span className="aside">of frames</span>
      </h2>
      <table className="kept">
        <tbody>
          {view.rider.wheel.map((arc) => {
            const frames = framesAt(arc.number);
            const kept = frames.filter(isKept).length;
            return (
              <tr key={arc.spot} className={arc.state}>
                <th scope="row">
                  <b>{arc.number}</b> {arc.name}
                </th>
                <td>
                  {arc.state === 'to-come' ? 'to come' : arc.state === 'missed' ? 'missed' : kept === 0 ? 'none' : kept}
                </td>
                <td>{frames.length > 0 && frames.length}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

interface SessionsProps {
  readonly view: RiderView;
  readonly shown: RiderView;
  readonly stretch: Stretch | null;
}

function Sessions({ view, shown, stretch }: SessionsProps) {
  const columns = [
    ...shown.sessions.map((session) => ({ kind: 'seen' as const, ...session })),
    ...shown.without.map((session) => ({ kind: 'without' as const, ...session })),
  ].sort((a, b) => a.index - b.index);
  const first = allPasses(shown)[0];
  if (stretch && columns.length === 0)
    return (
      <section className="session-columns-held">
        <HeldTo stretch={stretch} words={WORDS.wholeDay} />
        <p className="lead">No pass of this rider lies in the stretch.</p>
      </section>
    );
  return (
    <div className="session-columns-held">
      {stretch && <HeldTo stretch={stretch} words={WORDS.wholeDay} />}
      <section className="session-columns" aria-label="Passes by session">
        {columns.map((column) =>
          column.kind === 'without' ? (
            <div key={column.index} className="column without">
              <h2>{column.name}</h2>
              <p>no pass found</p>
            </div>
          ) : (
            <div key={column.index} className="column">
              <h2>
                <Link to="/sessions/$index" params={{ index: String(column.index) }}>
                  {column.name}
                </Link>
                <span className="aside">
                  {column.spots.map((spot) => (
                    <span key={spot.number}>
                      <b>{spot.number}</b> {spot.name}
                    </span>
                  ))}
                </span>
              </h2>
              {column.passes.map((pass) => (
                <PassBlock
                  key={pass.index}
                  pass={pass}
                  view={view}
                  isFirst={pass === first}
                  hasOtherSpots={column.spots.length > 1}
                />
              ))}
            </div>
          ),
        )}
      </section>
      <PerhapsPart view={view} passes={shown.perhaps} />
    </div>
  );
}

function Why({ view }: { readonly view: RiderView }) {
  const { oneRider } = view;
  return (
    <section className="part why">
      <h2>
        Why these are one rider{' '}
        <span className="aside">
          <Voice spoken={oneRider.voice === 'pencilled' ? { ...oneRider, reasons: [] } : oneRider} />
        </span>
      </h2>
      {oneRider.voice === 'pencilled' && oneRider.reasons.length > 0 ? (
        <ul className="rows">
          {oneRider.reasons.map((reason) => (
            <li key={reason} className="pencil-words">
              {reason}
            </li>
          ))}
        </ul>
      ) : (
        <p className="note">
          {oneRider.voice === 'initialled'
            ? 'You said so; a better measurer never asks it again.'
            : 'No reasons are given.'}
        </p>
      )}
      <p className="note">
        Arrows go from pass to pass, with Shift from session to session; up and down from rider to rider. A comma marks
        one frame after another.
      </p>
      <MarkKey />
    </section>
  );
}

const KEY_OF_MARKS = [
  ['sure', { isGood: true, isSlow: false, kept: null }],
  ['slow', { isGood: true, isSlow: true, kept: null }],
  ['not good', { isGood: false, isSlow: false, kept: null }],
  ['proposed', { isGood: true, isSlow: false, kept: 'proposed' }],
  ['kept by you', { isGood: true, isSlow: false, kept: 'kept-by-person' }],
  ['left out by you', { isGood: true, isSlow: false, kept: 'left-out' }],
] as const;

function MarkKey() {
  return (
    <ul className="mark-key" aria-label="Marks of frames">
      {KEY_OF_MARKS.map(([words, frame]) => (
        <li key={words}>
          <FrameMark frame={frame} /> {words}
        </li>
      ))}
    </ul>
  );
}

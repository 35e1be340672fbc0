/** What is spoken of: a spot and its sessions. Why the plan is there or elsewhere, what else would cost, and what can be wished. */
import { useState } from 'react';
import type { Sky } from '../../core/plan/light/types.js';
import type { PlanSpotView, PlanStayView, PlanView } from '../../server/planTypes.js';
import { desk } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { say } from '../stores/said.js';
import { type Chosen, isOf } from './planChoice.js';
import { closed, forbidden, pinned, rained, rested, wishing } from './wishes.js';

const WORDS = SHEET_WORDS.plan;

interface PartProps {
  readonly view: PlanView;
  readonly chosen: Chosen;
}

export function ChosenPart({ view, chosen, photographer }: PartProps & { readonly photographer: number }) {
  const { spot, from, to } = chosen;
  const stays = view.stays.filter(
    (stay) => stay.photographer === photographer && chosen.sessions.some((session) => isOf(stay, session)),
  );
  return (
    <section className="part ask chosen-part">
      <h2 aria-live="polite">
        {spot.number} {spot.name}, {sessionWords(chosen)}
        <span className="aside">
          {clockOf(from)}–{clockOf(to)}
        </span>
      </h2>
      <p className="note">{spotWords(spot)} Arrows move this: sessions, with Shift more of them, and spots.</p>
      {stays.length > 0 && <Whys view={view} stays={stays} />}
      <SayWishes view={view} chosen={chosen} />
    </section>
  );
}

const sessionWords = ({ sessions }: Chosen): string =>
  sessions.length === 1 ? sessions[0]!.name : `${sessions[0]!.name} to ${sessions.at(-1)!.name}`;

const ASPECTS = {
  'side-on': 'side-on',
  'three-quarter': 'three-quarter',
  'head-on': 'head-on',
  'going-away': 'going away',
} as const;

function spotWords({ view, needsPermit, hasShade }: PlanSpotView): string {
  const more = `${hasShade ? ' Shade.' : ''}${needsPermit ? ' Wants a permit.' : ''}`;
  if (view === null) return `The track is not seen from here as it is drawn.${more}`;
  const side = view.side === 'both' ? '' : `, the ${view.side} side`;
  return `${ASPECTS[view.aspect]}${side}, at ${Math.round(view.distanceM)} m: ${view.moments.join(', ')}.${more}`.replace(
    /^./,
    (letter) => letter.toUpperCase(),
  );
}

function Whys({ view, stays }: { readonly view: PlanView; readonly stays: readonly PlanStayView[] }) {
  const nameOf = (stay: PlanStayView) => {
    const spot = view.spots.find(({ id }) => id === stay.spot);
    return spot === undefined ? 'on the way, or resting' : `${spot.number} ${spot.name}`;
  };
  return (
    <>
      <ul className="rows whys">
        {stays.map((stay) => (
          <li key={`${stay.photographer} ${stay.stretch}`}>
            <b>{stay.stretch}</b> {nameOf(stay)}
            {stay.why !== null && <span className="note"> {stay.why}</span>}
          </li>
        ))}
      </ul>
      <NextBest view={view} stay={stays.find(({ spot }) => spot !== null) ?? null} />
    </>
  );
}

/** The day is solved anew without the first of these stays; the answer holds for what was asked. */
function NextBest({ view, stay }: { readonly view: PlanView; readonly stay: PlanStayView | null }) {
  const about = stay === null ? '' : `${stay.photographer} ${stay.stretch} ${stay.spot} ${view.shown} ${view.asOf}`;
  const [answer, setAnswer] = useState({ about: '', sentence: '' });
  const ask = async () => {
    if (stay === null) return;
    setAnswer({ about, sentence: 'Being looked at: two seconds at most.' });
    const sentence = await desk.nextBest(view.date, stay.photographer, stay.stretch).then(
      (told) => told.sentence,
      (problem: Error) => problem.message,
    );
    setAnswer({ about, sentence });
  };
  return (
    <>
      <Act
        words={WORDS.askElse}
        run={() => void ask()}
        isOff={stay === null}
        why="No stay of the plan is among these sessions."
      />
      {answer.about === about && about !== '' && (
        <p className="next-best" role="status">
          {answer.sentence}
        </p>
      )}
    </>
  );
}

function SayWishes({ view, chosen }: PartProps) {
  const { spot, from, to } = chosen;
  const [sky, setSky] = useState<Sky>('overcast');
  const where = `${spot.number} ${spot.name}`;
  const when = `${clockOf(from)} to ${clockOf(to)}`;
  const sessions = sessionWords(chosen);
  return (
    <>
      <div className="acts">
        <Act
          words={WORDS.here}
          run={() => void say(`${where} in ${sessions}`, [wishing(view, pinned(view, chosen))])}
        />
        <Act
          words={WORDS.notHere}
          run={() => void say(`Not ${where} in ${sessions}`, [wishing(view, forbidden(view, chosen))])}
        />
        <Act
          words={WORDS.closed}
          run={() => void say(`${where} closed, ${when}`, [wishing(view, closed(view, chosen))])}
        />
        <Act words={WORDS.rest} run={() => void say(`A rest, ${when}`, [wishing(view, rested(view, chosen))])} />
        <Act
          words={WORDS.rain}
          run={() =>
            void say(`Rain, ${when}`, [
              wishing(view, rained(view, chosen)),
              { kind: 'sky', from, to, is: 'overcast' as const },
            ])
          }
        />
      </div>
      <p className="fields">
        <label htmlFor="plan-sky">Sky from {when}</label>
        <select id="plan-sky" value={sky} onChange={(event) => setSky(event.target.value as Sky)}>
          {SKIES.map(([is, words]) => (
            <option key={is} value={is}>
              {words}
            </option>
          ))}
        </select>
        <Act
          words={WORDS.sky}
          run={() => void say(`${skyWords(sky)}, ${when}`, [{ kind: 'sky', from, to, is: sky }])}
        />
      </p>
    </>
  );
}

const SKIES: readonly (readonly [Sky, string])[] = [
  ['clear', 'clear'],
  ['thin-cloud', 'thin cloud'],
  ['overcast', 'overcast'],
];

export const skyWords = (sky: Sky): string => {
  const words = SKIES.find(([is]) => is === sky)?.[1] ?? sky;
  return words.charAt(0).toUpperCase() + words.slice(1);
};

/** Having a plan made: how far the search is, ending it, and taking what was found or letting it go. */
import { useEffect, useState } from 'react';
import type { PlanView, SolvingView } from '../../server/planTypes.js';
import { desk } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { ask, say } from '../stores/said.js';

const WORDS = SHEET_WORDS.plan;

export function SearchPart({ view }: { readonly view: PlanView }) {
  const { solving, date } = view;
  if (solving.kind === 'running') return <Running solving={solving} />;
  return (
    <>
      {solving.kind === 'impossible' && (
        <p className="urgent" role="alert">
          {solving.sentence}
          {solving.isOld && ' That was before the last words.'}
        </p>
      )}
      {solving.kind === 'failed' && (
        <p className="urgent" role="alert">
          {solving.sentence}
        </p>
      )}
      <div className="acts">
        {solving.kind === 'found' && <Found view={view} solving={solving} />}
        <Act
          words={view.isUnderWay ? WORDS.makeRest : WORDS.make}
          kind={solving.kind === 'found' ? 'plain' : 'main'}
          run={() => void ask('A plan is looked for.', () => desk.searchPlan(date))}
          isOff={view.missing.length > 0}
          why={`Say ${view.missing.join(' and ')} first.`}
        />
      </div>
    </>
  );
}

function Found({
  view,
  solving,
}: {
  readonly view: PlanView;
  readonly solving: Extract<SolvingView, { kind: 'found' }>;
}) {
  const stays = view.stays.map(({ photographer, stretch, spot }) => ({ photographer, stretch, spot }));
  const isEmpty = stays.every(({ spot }) => spot === null);
  const take = () =>
    void say('This plan is yours', [{ kind: 'plan-taken', at: view.now, stays }]).then((isSaid) =>
      isSaid ? desk.letGoPlan() : undefined,
    );
  return (
    <>
      <Act
        words={WORDS.take}
        kind="main"
        run={take}
        isOff={solving.isOld || isEmpty}
        why={isEmpty ? 'It stands nowhere.' : 'What it rests on has changed: have it made again.'}
      />
      <Act words={WORDS.letGo} run={() => void ask('Let go: what stood before stands.', desk.letGoPlan)} />
    </>
  );
}

function Running({ solving }: { readonly solving: Extract<SolvingView, { kind: 'running' }> }) {
  const seconds = useSeconds(solving.seconds);
  const { limitS, worth } = solving;
  return (
    <div className="searching">
      <p role="status">
        A plan is looked for: {Math.min(limitS, Math.floor(seconds))} of at most {limitS} s.{' '}
        {worth === null ? 'None is found yet.' : 'One is found; whether a better one is there is being looked at.'}
      </p>
      <span className="bar" aria-hidden="true">
        <i style={{ inlineSize: `${Math.min(100, (seconds / limitS) * 100)}%` }} />
      </span>
      <div className="acts">
        <Act words={WORDS.end} run={() => void ask('Ended: the best until now is shown.', desk.stopPlan)} />
      </div>
    </div>
  );
}

/** Counts on between what the desk tells. */
function useSeconds(told: number): number {
  const [seconds, setSeconds] = useState(told);
  useEffect(() => {
    setSeconds(told);
    const timer = setInterval(() => setSeconds((before) => before + 0.5), 500);
    return () => clearInterval(timer);
  }, [told]);
  return seconds;
}

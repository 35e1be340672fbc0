/** The afternoon: planned anew from what is owed, the plan kept and the plan found side by side, and which of them to go by. */
import { useEffect, useState } from 'react';
import type { CompareView, LunchSheetView, PlanningView } from '../../server/lunch/types.js';
import { desk } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Bar } from '../marks/Marks.js';
import { Absent } from '../marks/Voices.js';
import { ask, say } from '../stores/said.js';
import { BothPlans } from './BothPlans.js';
import { BothWays } from './BothWays.js';
import { GainScale } from './GainScale.js';

const WORDS = SHEET_WORDS.lunch;

export function AfternoonPart({ view }: { readonly view: LunchSheetView }) {
  const { planning, cannotPlan } = view;
  const find = () => void ask('The afternoon is being planned.', () => desk.planLunch(view.date));
  return (
    <section className="part afternoon-part" aria-busy={planning.kind === 'running'}>
      <h2>
        After lunch <span className="aside">{asideOf(planning)}</span>
      </h2>
      {cannotPlan.length > 0 && (
        <ul className="rows">
          {cannotPlan.map((sentence) => (
            <li key={sentence}>
              <Absent>no plan yet</Absent> {sentence}
            </li>
          ))}
        </ul>
      )}
      {planning.kind === 'running' && <Searching planning={planning} />}
      {planning.kind === 'nothing' && <p className="urgent">{planning.sentence}</p>}
      {planning.kind === 'found' && <FoundWords planning={planning} />}
      <div className="acts not-on-paper">
        {planning.kind === 'running' ? (
          <Act
            words={WORDS.stop}
            run={() => void ask('The best found so far is taken as the answer.', desk.stopLunch)}
            isOff={!planning.hasPlan}
            why="No plan is found yet."
          />
        ) : (
          <>
            {planning.kind === 'found' && !planning.isTaken && <Decide planning={planning} />}
            <Act
              words={WORDS.find}
              kind={planning.kind === 'found' && !planning.isStale ? 'plain' : 'main'}
              run={find}
              isOff={cannotPlan.length > 0}
              why="See above what it needs."
            />
          </>
        )}
      </div>
      {planning.kind === 'found' && <Comparison compare={planning.compare} isTaken={planning.isTaken} />}
    </section>
  );
}

function asideOf(planning: PlanningView): string {
  if (planning.kind === 'running') return 'being planned';
  if (planning.kind !== 'found') return 'from what is owed, and the timetable as it runs';
  return planning.isTaken ? 'the plan found is yours' : 'nothing is taken yet';
}

function Searching({ planning }: { readonly planning: Extract<PlanningView, { kind: 'running' }> }) {
  const seconds = Math.floor(useSecondsSince(planning.seconds));
  return (
    <>
      <p className="sub">
        {seconds} s{seconds <= planning.limitS ? ` of about ${planning.limitS} s` : ', longer than it usually takes'}
        <span>{planning.hasPlan ? 'a plan is found; a better one is looked for' : 'no plan is found yet'}</span>
      </p>
      <Bar done={Math.min(seconds, planning.limitS)} total={planning.limitS} label="seconds of the search" />
    </>
  );
}

/** Counted on here: the desk tells only of what changes. */
function useSecondsSince(told: number): number {
  const [seconds, setSeconds] = useState(told);
  useEffect(() => {
    const from = Date.now() - told * 1000;
    setSeconds(told);
    const timer = setInterval(() => setSeconds((Date.now() - from) / 1000), 500);
    return () => clearInterval(timer);
  }, [told]);
  return seconds;
}

type FoundPlanning = Extract<PlanningView, { kind: 'found' }>;

function Decide({ planning: { take, compare } }: { readonly planning: FoundPlanning }) {
  return (
    <>
      <Act words={WORDS.go} kind="main" run={() => void say('The afternoon goes by the plan found', [take])} />
      {compare.kept && <Act words={WORDS.keep} run={() => void ask('Kept: the plan as it was.', desk.keepLunch)} />}
    </>
  );
}

function FoundWords({ planning: { compare, isStale, isTaken } }: { readonly planning: FoundPlanning }) {
  return (
    <>
      {isTaken && <p className="sub taken">You go by this plan. Ctrl+Z takes it back.</p>}
      {isStale && !isTaken && (
        <p className="urgent">
          Something was said or came in since this was planned. Plan it again before going by it.
        </p>
      )}
      <p className="note">
        {howMany(compare)} {compare.howSure}
      </p>
    </>
  );
}

function Comparison({ compare, isTaken }: { readonly compare: CompareView; readonly isTaken: boolean }) {
  const { kept, gains, remarks, cautions, ways } = compare;
  return (
    <>
      <div className="afternoon-columns">
        <BothPlans compare={compare} isTaken={isTaken} />
        <div>
          <GainScale gains={gains} />
          {kept && !kept.isWalkable && (
            <More first="Yours cannot be walked as it stands." others={kept.troubles} of="reasons" />
          )}
          {kept?.isWalkable && <Rows sentences={kept.troubles} />}
          <Rows sentences={remarks} />
          {cautions[0] !== undefined && <More first={cautions[0]} others={cautions.slice(1)} of="more to mind" />}
        </div>
      </div>
      {ways && <BothWays ways={ways} hasKept={kept !== null} isTaken={isTaken} />}
    </>
  );
}

const Rows = ({ sentences }: { readonly sentences: readonly string[] }) =>
  sentences.length > 0 && (
    <ul className="note rows">
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );

/** What matters most stands there; the rest is one step away. */
function More({
  first,
  others,
  of,
}: {
  readonly first: string;
  readonly others: readonly string[];
  readonly of: string;
}) {
  return (
    <div className="more-of">
      <p>{first}</p>
      {others.length > 0 && (
        <details>
          <summary>
            {others.length} {of}
          </summary>
          <ul>
            {others.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}

function howMany({ rows, kept }: CompareView): string {
  if (kept === null) return 'No plan was taken for this afternoon, so there is nothing to compare with.';
  const changed = rows.filter(({ kind }) => kind !== 'same').length;
  if (changed === 0) return 'The plan found is the one you have.';
  return `${changed} of ${rows.length} stretches differ from yours.`;
}

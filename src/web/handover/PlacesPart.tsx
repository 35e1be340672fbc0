/** Places the gallery is put up to: how it stands there, what putting up would do, and doing it. */
import { useState } from 'react';
import type { PlaceView } from '../../server/handover/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { leftWords } from '../marks/leftWords.js';
import { Bar } from '../marks/Marks.js';
import { ask } from '../stores/said.js';
import { handoverDesk } from './handoverDesk.js';

const WORDS = SHEET_WORDS.handOver;

interface DryRun {
  readonly place: string;
  /** Null while the place is asked. */
  readonly lines: readonly string[] | null;
}

export function PlacesPart({ places }: { readonly places: readonly PlaceView[] }) {
  const [chosen, setChosen] = useState<string | null>(null);
  const [dryRun, setDryRun] = useState<DryRun | null>(null);
  const at = Math.max(
    0,
    places.findIndex(({ name }) => name === chosen),
  );
  const runDry = (place: string) => {
    setDryRun({ place, lines: null });
    void ask(`${place}: what putting up would do.`, async () => {
      const { lines } = await handoverDesk.dryRun(place);
      setDryRun({ place, lines });
    }).then((wasAnswered) => {
      if (!wasAnswered) setDryRun(null);
    });
  };
  const begin = (place: string) => {
    setDryRun(null);
    void ask(`${place}: being put up.`, () => handoverDesk.putUp(place));
  };
  return (
    <section className="part places-part">
      <h2>
        Places <span className="aside">the gallery is put up to</span>
      </h2>
      {places.length === 0 && (
        <p className="note">
          No place is known yet. In a terminal, say tyrewall place add with a name and a folder, sftp://… or s3://…
        </p>
      )}
      <ul className="places">
        {places.map((place, i) => (
          <li key={place.name} className={i === at ? 'current' : ''}>
            <p className="sub">
              <button type="button" className="word" aria-pressed={i === at} onClick={() => setChosen(place.name)}>
                {place.name}
              </button>{' '}
              <span>{place.said}</span>
            </p>
            <Standing place={place} />
            {i === at && (
              <PlaceActs
                place={place}
                runDry={() => runDry(place.name)}
                begin={() => begin(place.name)}
                next={places.length > 1 ? () => setChosen(places[(at + 1) % places.length]!.name) : null}
              />
            )}
            {dryRun?.place === place.name && place.work.state !== 'running' && <DryRunLines lines={dryRun.lines} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Standing({ place: { name, stands, pending, trouble, work } }: { readonly place: PlaceView }) {
  if (work.state === 'running')
    return (
      <>
        <p className="sub" role="status">
          {work.total === 0
            ? 'Looking at what lies there.'
            : `${work.done.toLocaleString('en-GB')} of ${work.total.toLocaleString('en-GB')} files${leftWords(work.secondsLeft)}`}
        </p>
        <Bar done={work.done} total={work.total} label={`Put up to ${name}`} />
        {work.sentence && <p className="urgent">{work.sentence}</p>}
      </>
    );
  return (
    <>
      <p className="note">{stands}</p>
      {pending && <p className="urgent">Pending: {pending}</p>}
      {trouble && <p className="urgent">{trouble}</p>}
      {work.sentence && <p className={work.state === 'failed' ? 'urgent lines' : 'note lines'}>{work.sentence}</p>}
    </>
  );
}

interface PlaceActsProps {
  readonly place: PlaceView;
  readonly runDry: () => void;
  readonly begin: () => void;
  readonly next: (() => void) | null;
}

function PlaceActs({ place: { name, work }, runDry, begin, next }: PlaceActsProps) {
  return (
    <div className="acts">
      {work.state === 'running' ? (
        <Act words={WORDS.stop} run={() => void ask(`${name}: stopping.`, () => handoverDesk.stop(name))} />
      ) : (
        <>
          <Act words={WORDS.dryRun} run={runDry} />
          <Act words={WORDS.begin} run={begin} />
        </>
      )}
      {next && <Act words={WORDS.next} run={next} />}
    </div>
  );
}

function DryRunLines({ lines }: { readonly lines: readonly string[] | null }) {
  if (lines === null) return <p className="note">The place is asked.</p>;
  return (
    <section className="dry-run" aria-label="What putting up would do">
      <pre>{lines.join('\n')}</pre>
      <p className="note">Nothing was changed, here or there.</p>
    </section>
  );
}

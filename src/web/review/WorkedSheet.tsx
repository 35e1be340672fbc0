/** What worked, on one page: how things stand, what the day shows, and the counts behind it with their ranges. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import type { ReviewView } from '../../server/review/types.js';
import { Act } from '../keys/Act.js';
import { useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Evidence } from '../lunch/Evidence.js';
import { Trouble } from '../sheets/Trouble.js';
import { BesidePart } from './BesidePart.js';
import { HourPart } from './HourPart.js';
import { PlannedPart } from './PlannedPart.js';
import { RatesPart } from './RatesPart.js';
import { reviewQuery } from './reviewQueries.js';
import { ShuttersPart } from './ShuttersPart.js';
import { YieldPart } from './YieldPart.js';

export function WorkedSheet() {
  const { data, error } = useQuery(reviewQuery);
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/' }));
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return (
    <main id="sheet" className="worked-sheet">
      <header className="opening">
        <h1 className="headline">{data.headline}</h1>
        {data.kept?.is === false && <p className="urgent">{data.kept.sentence}</p>}
        <p className="lead">{data.lead}</p>
      </header>
      {data.hasRates ? (
        <Counts view={data} />
      ) : (
        <p className="note">What worked is told once pictures with bikes are measured and their sessions are known.</p>
      )}
      <BesidePart />
      {data.kept?.is === true && <p className="note not-on-paper">{data.kept.sentence}</p>}
      <div className="acts not-on-paper">
        <Act words={SHEET_WORDS.worked.paper} run={() => window.print()} />
        {data.hasRates && (
          <a className="word" href="/api/review/paper" download>
            as a PDF file
          </a>
        )}
      </div>
    </main>
  );
}

function Counts({ view }: { readonly view: ReviewView }) {
  return (
    <>
      <ShowsPart shows={view.shows} />
      <ShuttersPart panels={view.shutters} without={view.shuttersWithout} />
      <div className="worked-columns">
        <div>
          {view.tables.map((table) => (
            <RatesPart key={table.title} table={table} />
          ))}
        </div>
        <div>
          <HourPart byHour={view.byHour} shimmer={view.shimmer} />
          <SentencesPart title="Focus" rows={view.focus} none="No missed focus stands out." />
          <YieldPart spots={view.spots} />
        </div>
        <div>
          <PlannedPart rows={view.asPlanned} />
        </div>
      </div>
      <div className="worked-pair not-on-paper">
        <SentencesPart title="How low the shutter went" rows={view.howLow} none="Too few of any one shutter to say." />
        <ComparedPart sentences={view.compared} />
      </div>
    </>
  );
}

function ShowsPart({ shows }: { readonly shows: readonly string[] }) {
  return (
    <section className="part shows-part">
      <h2>
        What the day shows <span className="aside">counted, not advised</span>
      </h2>
      {shows.length === 0 ? (
        <p className="note">Nothing lies so far apart that it could not be chance.</p>
      ) : (
        <ul className="rows">
          {shows.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
    </section>
  );
}

interface SentencesProps {
  readonly title: string;
  readonly rows: ReviewView['focus'];
  readonly none: string;
}

function SentencesPart({ title, rows, none }: SentencesProps) {
  return (
    <section className="part">
      <h2>{title}</h2>
      {rows.length === 0 ? (
        <p className="note">{none}</p>
      ) : (
        <ul className="rows sentences">
          {rows.map(({ sentence, evidence }) => (
            <li key={sentence}>
              {sentence} <Evidence pictures={evidence} of={sentence} />
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function ComparedPart({ sentences }: { readonly sentences: readonly string[] }) {
  return (
    <section className="part">
      <h2>
        Neighbouring shutters <span className="aside">of one spot, group and focal length</span>
      </h2>
      {sentences.length === 0 ? (
        <p className="note">No two shutters with ten passes each were tried alike.</p>
      ) : (
        <ul className="rows sentences">
          {sentences.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** The day at lunch: how it stands, what is owed and to whom, what the kit did, and the afternoon planned anew. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import type { DayView } from '../../server/types.js';
import { dateShown } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Sentences } from '../marks/Voices.js';
import { Trouble } from '../sheets/Trouble.js';
import { useStore } from '../stores/store.js';
import { AfternoonPart } from './AfternoonPart.js';
import { CoveragePart } from './CoveragePart.js';
import { KitPart } from './KitPart.js';
import { lunchQuery } from './lunchQueries.js';
import { NeverPart } from './NeverPart.js';
import { PalettePart } from './PalettePart.js';
import { WatchPart } from './WatchPart.js';

const WORDS = SHEET_WORDS.lunch;

export function LunchSheet({ day }: { readonly day: DayView }) {
  const date = useStore(dateShown);
  const { data, error } = useQuery(lunchQuery(date));
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: day.counts.questions > 0 ? '/questions' : '/' }));
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return (
    <main id="sheet" className="lunch-sheet">
      <header className="opening">
        <h1 className="headline">
          <Sentences of={data.headline} />
        </h1>
        {day.urgent.map((sentence) => (
          <p key={sentence} className="urgent">
            {sentence}
          </p>
        ))}
        <p className="lead">
          <Sentences of={data.lead} />
        </p>
      </header>
      <AfternoonPart view={data} />
      <div className="lunch-columns">
        <CoveragePart groups={data.groups} />
        <NeverPart view={data} />
      </div>
      <WatchPart view={data} />
      <PalettePart palette={data.palette} />
      <KitPart />
      <div className="acts not-on-paper">
        <Act words={WORDS.paper} run={() => window.print()} />
      </div>
    </main>
  );
}

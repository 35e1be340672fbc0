/** The ladder of shutters at a spot, group beside group, with pictures of what the streak will look like. */
import { useQuery } from '@tanstack/react-query';
import type { SpotId } from '../../core/ids.js';
import type { Practice } from '../../core/plan/settings/types.js';
import type { WallMs } from '../../core/units.js';
import { ladderQuery } from '../api/queries.js';
import { LadderFigures } from './LadderFigures.js';
import { LadderTable } from './LadderTable.js';
import { SaySpeed } from './SaySpeed.js';
import { StreakMark } from './StreakMark.js';
import { StreakPictures } from './StreakPictures.js';

export interface LadderPartProps {
  readonly date: string;
  readonly spot: SpotId;
  readonly at: WallMs;
  readonly initials: string;
}

export function LadderPart({ date, spot, at, initials }: LadderPartProps) {
  const { data, error } = useQuery(ladderQuery(date, spot, at));
  if (error)
    return (
      <section className="part ask">
        <h2>Shutter</h2>
        <p>{error.message}</p>
      </section>
    );
  if (!data) return <section className="part" aria-busy="true" />;
  return (
    <section className="part ask ladder-part">
      <h2>
        Shutter at {data.spot.number} {data.spot.name}
        <span className="aside">streak, share of the bike</span>
      </h2>
      <LadderTable view={data} initials={initials} />
      <SaySpeed view={data} />
      <ul className="mark-key">
        <li>
          <StreakMark kind="sure" length={10} wide={12} isKey /> sure
        </li>
        <li>
          <StreakMark kind="slow" length={10} wide={12} isKey /> slow: go down a rung once the list for the session is
          done
        </li>
      </ul>
      <StreakPictures view={data} />
      <LadderFigures view={data} />
      <Practices practice={data.practice} />
      <ul className="rows settings">
        {data.settings.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  );
}

const BASES = {
  published: 'published',
  'common-practice': 'common practice',
  'own-convention': 'our own guess',
} as const;

/** Not worked out: what photographers say, with where it is from. */
function Practices({ practice }: { readonly practice: readonly Practice[] }) {
  return (
    <details className="practice">
      <summary>What photographers use here</summary>
      <ul className="note">
        {practice.map(({ range: [quick, slow], basis, says }) => (
          <li key={says}>
            {shutterWords(quick)}
            {quick === slow ? '' : ` to ${shutterWords(slow)}`}, {says}: {BASES[basis]}.
          </li>
        ))}
      </ul>
    </details>
  );
}

const shutterWords = (seconds: number): string => `1/${Math.round(1 / seconds)}`;

/** Finishes of other meetings: one is tried on by a key, and this one is kept by its name for the next. */
import { queryOptions, useQuery } from '@tanstack/react-query';
import type { Finish } from '../../core/log/finishSaid.js';
import { DeskProblem, desk } from '../api/client.js';
import { queries } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { ask } from '../stores/said.js';
import { isSame } from './scales.js';

const WORDS = SHEET_WORDS.finish;
const LONGEST_NAME = 60;

const keptQuery = queryOptions({ queryKey: ['kept-finishes'], queryFn: desk.keptFinishes, retry: false });

interface KeptPartProps {
  readonly tried: Finish;
  readonly change: (next: Finish) => void;
}

export function KeptPart({ tried, change }: KeptPartProps) {
  const { data, error } = useQuery(keptQuery);
  // A desk may be opened without them; a damaged file is told of in its own words.
  if (error instanceof DeskProblem && error.status === 404) return null;
  if (error) return <p className="trouble">{error.message}</p>;
  return data ? <Kept finishes={data.finishes} tried={tried} change={change} /> : null;
}

const plain = (name: string): string => name.trim().toLocaleLowerCase('en');

async function keep(finish: Finish): Promise<void> {
  await ask(`“${finish.name}” is kept for the next meeting`, async () => {
    queries.setQueryData(keptQuery.queryKey, await desk.keepFinish(finish));
  });
}

function Kept({ finishes, tried, change }: KeptPartProps & { readonly finishes: readonly Finish[] }) {
  const at = finishes.findIndex((one) => isSame(one, tried));
  const next = finishes[(at + 1) % finishes.length];
  const name = tried.name.trim();
  const before = finishes.find((one) => plain(one.name) === plain(name));
  return (
    <section className="kept-finishes">
      <h2 className="sheet-h">Kept for other meetings</h2>
      <p className="kept-names">
        {finishes.length === 0 && 'None yet.'}
        {finishes.map((one) => (
          <button
            key={one.name}
            type="button"
            className="word"
            aria-pressed={isSame(one, tried)}
            onClick={() => change(one)}
          >
            {one.name}
          </button>
        ))}
      </p>
      <label>
        Its name{' '}
        <input
          value={tried.name}
          maxLength={LONGEST_NAME}
          onChange={(event) => change({ ...tried, name: event.target.value })}
        />
      </label>
      <div className="acts">
        <Act
          words={WORDS.writeDown}
          isOff={name === '' || at >= 0}
          why={name === '' ? 'It needs a name.' : 'It is kept as it is.'}
          {...(before ? { consequence: 'in place of the one of that name' } : {})}
          run={() => void keep({ ...tried, name })}
        />
        {next && !isSame(next, tried) && <Act words={WORDS.another} run={() => change(next)} />}
      </div>
    </section>
  );
}

/** Finals of all that is finished: made from here, with the time that is left, halted, and gone on with. */
import { useQuery } from '@tanstack/react-query';
import type { ActionView } from '../../server/types.js';
import { desk } from '../api/client.js';
import { actionsQuery, queries } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { leftWords } from '../marks/leftWords.js';
import { Bar } from '../marks/Marks.js';
import { ask } from '../stores/said.js';

const WORDS = SHEET_WORDS.finish;

export function FinalsPart() {
  const { data } = useQuery(actionsQuery);
  const finals = data?.actions.find(({ name }) => name === 'finals');
  // A desk may be opened without them.
  return finals ? <Finals view={finals} /> : null;
}

const told = (sentence: string, work: () => Promise<unknown>): void =>
  void ask(sentence, work).then(() => queries.invalidateQueries({ queryKey: actionsQuery.queryKey }));

function Finals({ view }: { readonly view: ActionView }) {
  const start = () => told('Finals: under way.', () => desk.start('finals'));
  return (
    <section className="finals-part">
      <h2 className="sheet-h">Finals</h2>
      {view.state === 'running' ? (
        <>
          <Bar done={view.done} total={view.total} label="Finals made" />
          <p className="sub">{runningWords(view)}</p>
          <div className="acts">
            <Act words={WORDS.halt} run={() => told('Halted: what was made stays.', () => desk.stop('finals'))} />
          </div>
        </>
      ) : (
        <>
          <p className={view.state === 'failed' ? 'urgent' : 'sub'}>
            {view.sentence ?? 'Whole pictures without a mark, finished as was said, in made/finals.'}
          </p>
          <div className="acts">
            <Act
              words={view.state === 'stopped' || view.state === 'failed' ? WORDS.makeRest : WORDS.makeFinals}
              run={start}
            />
          </div>
        </>
      )}
    </section>
  );
}

const runningWords = ({ done, total, secondsLeft }: ActionView): string =>
  total === 0
    ? 'What stands already is looked through.'
    : `${done.toLocaleString('en-GB')} of ${total.toLocaleString('en-GB')}${leftWords(secondsLeft)}`;

/** The mark of the proofs: words, or a picture of one's own, taken from a file. */
import { queryOptions, useQuery } from '@tanstack/react-query';
import { useRef } from 'react';
import type { MarkView } from '../../server/finish/types.js';
import { DeskProblem, desk } from '../api/client.js';
import { queries } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { ask } from '../stores/said.js';

const WORDS = SHEET_WORDS.finish;

const markQuery = queryOptions({ queryKey: ['finish', 'mark'], queryFn: desk.mark, retry: false });

export function MarkPart() {
  const { data, error, dataUpdatedAt } = useQuery(markQuery);
  // A desk may be opened without it.
  if (error instanceof DeskProblem && error.status === 404) return null;
  if (error) return <p className="trouble">{error.message}</p>;
  return data ? <Mark view={data} asOf={dataUpdatedAt} /> : null;
}

const told = (sentence: string, work: () => Promise<MarkView>): void =>
  void ask(sentence, async () => {
    queries.setQueryData(markQuery.queryKey, await work());
  });

function Mark({ view, asOf }: { readonly view: MarkView; readonly asOf: number }) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <section className="mark-part">
      <h2 className="sheet-h">Mark of the proofs</h2>
      {view.trouble !== null && <p className="trouble">{view.trouble}</p>}
      {view.isPicture ? (
        <img src={`/pictures/mark?as-of=${asOf}`} alt="Your own mark" draggable={false} />
      ) : (
        <p>{view.words === null ? 'In words: “proof” and your credit.' : `In words: “${view.words}”.`}</p>
      )}
      <p className="fine">
        A PNG or SVG with transparency is laid across every bike, and fainter between. It stays for the next meeting.
      </p>
      <div className="acts">
        <Act words={WORDS.layMark} run={() => input.current?.click()} />
        {(view.isPicture || view.trouble !== null) && (
          <Act words={WORDS.inWords} run={() => told('Proofs are marked in words again', desk.markInWords)} />
        )}
      </div>
      <input
        ref={input}
        className="sr"
        type="file"
        accept=".png,.svg"
        tabIndex={-1}
        aria-label="Your own mark, a PNG or SVG with transparency"
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file) told('Proofs have your own mark from now on', () => desk.keepMark(file));
          event.target.value = '';
        }}
      />
    </section>
  );
}

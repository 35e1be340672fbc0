/** Two meetings beside each other: another's file of rates is chosen, or dropped here. */
import { useQuery } from '@tanstack/react-query';
import { type DragEvent, useRef } from 'react';
import type { BesideView, BothView } from '../../server/review/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { GroupLetter } from '../marks/Marks.js';
import { useStore } from '../stores/store.js';
import { besideFile } from './besideFile.js';
import { percent, RangeMark } from './RangeMark.js';
import { besideQuery } from './reviewQueries.js';

const WORDS = SHEET_WORDS.worked;

export function BesidePart() {
  const chosen = useStore(besideFile);
  const { data, error } = useQuery(besideQuery(chosen));
  const input = useRef<HTMLInputElement>(null);
  const take = (file: File | undefined) => {
    if (file) besideFile.set({ file, at: Date.now() });
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    take(event.dataTransfer.files[0]);
  };
  return (
    <section
      className={`part beside-part${chosen === null ? ' not-on-paper' : ''}`}
      aria-label="Beside another meeting"
      onDragOver={(event) => event.preventDefault()}
      onDrop={drop}
    >
      <h2>
        Beside another meeting <span className="aside">by what both did alike, spots by name</span>
      </h2>
      {error && chosen && (
        <p className="urgent" role="alert">
          {error.message}
        </p>
      )}
      {data && chosen && <Beside view={data} />}
      {chosen === null && (
        <p className="note">
          Choose the made/debrief.json in another meeting’s folder, or drop it here. It is there once that meeting’s
          page was opened.
        </p>
      )}
      <div className="acts not-on-paper">
        <Act words={WORDS.beside} run={() => input.current?.click()} />
        {chosen && <Act words={WORDS.alone} run={() => besideFile.set(null)} />}
      </div>
      <input
        ref={input}
        className="sr"
        type="file"
        accept=".json"
        tabIndex={-1}
        aria-label="Rates of another meeting, its made/debrief.json"
        onChange={(event) => {
          take(event.target.files?.[0]);
          event.target.value = '';
        }}
      />
    </section>
  );
}

function Beside({ view: { there, here, sentence, all, tables } }: { readonly view: BesideView }) {
  return (
    <>
      <p>{sentence}</p>
      <p className="note">
        In each row above: {there}; below: {here}. The figures are here less there, by their range.
      </p>
      {all && <BothRows rows={[all]} there={there} />}
      <div className="beside-tables">
        {tables.map(({ title, rows }) => (
          <div key={title}>
            <h3>{title}</h3>
            <BothRows rows={rows} there={there} />
          </div>
        ))}
      </div>
    </>
  );
}

const markOf = ({ share, from, to, isFew }: BothView['there']) => ({ at: share, from, to, isFew });
const countOf = ({ share, hits, bikes, isFew }: BothView['there']): string =>
  `${percent(share)} %, ${hits.toLocaleString('en-GB')} of ${bikes.toLocaleString('en-GB')}${isFew ? ', few' : ''}`;

function BothRows({ rows, there }: { readonly rows: readonly BothView[]; readonly there: string }) {
  return (
    <ul className="rate-rows both-rows">
      {rows.map(({ label, group, words, isApart, ...both }) => (
        <li key={label} className={isApart ? 'apart' : ''}>
          <span className="rate-label">
            {group && <GroupLetter group={group} />} {label}
          </span>
          <span className="rate-range">
            <RangeMark marks={[markOf(both.there), markOf(both.here)]} />
          </span>
          <span className="rate-count">
            <span className="sr">{there}: </span>
            {countOf(both.there)}
            <br />
            <span className="sr">here: </span>
            {countOf(both.here)}
          </span>
          <span className="row-note">
            {words}
            {isApart && <b> apart</b>}
          </span>
        </li>
      ))}
    </ul>
  );
}

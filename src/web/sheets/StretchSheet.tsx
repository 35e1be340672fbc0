/** A stretch of the day dragged out on the day line: who went by in it, by group, those in need first. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import type { GroupKeyView, StretchView } from '../../server/types.js';
import { stretchQuery } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { type Stretch, stretchWords } from '../line/stretch.js';
import { GroupLetter } from '../marks/Marks.js';
import { RollCallPart } from '../plan/pocket/RollCallPart.js';
import { RiderTile } from './RiderTile.js';
import { Trouble } from './Trouble.js';

/** Says that not all of the day is shown, and how to have it back. */
export function HeldTo({ stretch, words }: { readonly stretch: Stretch; readonly words: string }) {
  const navigate = useNavigate();
  return (
    <div className="held-to">
      <p>Shown is {stretchWords(stretch)} only.</p>
      <Act
        words={words}
        run={() => void navigate({ to: '.', search: (before) => ({ ...before, stretch: undefined }), replace: true })}
      />
    </div>
  );
}

const counted = (count: number, one: string, many: string): string =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

export function StretchSheet({
  stretch,
  groups,
}: {
  readonly stretch: Stretch;
  readonly groups: readonly GroupKeyView[];
}) {
  const { data, error } = useQuery(stretchQuery(stretch.from, stretch.to));
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/questions' }));
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  const riders = data.groups.reduce((sum, group) => sum + group.riders.length, 0);
  return (
    <main id="sheet">
      <header className="opening">
        <h1 className="headline">
          {stretchWords(data)}:{' '}
          {riders === 0
            ? 'no rider went by.'
            : `${counted(riders, 'rider', 'riders')} in ${counted(data.passes, 'pass', 'passes')}.`}
        </h1>
        <p className="lead">
          {counted(data.frames, 'frame', 'frames')}
          {data.waiting > 0 && `, ${data.waiting.toLocaleString('en-GB')} of them not yet measured`}. Wheels and marks
          are of the whole day.
        </p>
        <HeldTo stretch={stretch} words={SHEET_WORDS.day.wholeDay} />
      </header>
      <div className="groups">
        {data.groups.map((group) => (
          <StretchGroup key={group.group?.key ?? '-'} part={group} />
        ))}
      </div>
      <RollCallPart key={`${stretch.from} ${stretch.to}`} stretch={data} groups={groups} />
    </main>
  );
}

function StretchGroup({ part }: { readonly part: StretchView['groups'][number] }) {
  return (
    <section className="part group">
      <h2>
        {part.group && <GroupLetter group={part.group} />} {part.group?.name ?? 'Group not known'}
        <span className="aside">{counted(part.riders.length, 'rider', 'riders')}, fewest good frames first</span>
      </h2>
      <ul className="tiles">
        {part.riders.map(({ rider }) => (
          <RiderTile key={rider.key} rider={rider} />
        ))}
      </ul>
    </section>
  );
}

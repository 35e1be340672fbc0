/** How things stand: the sentence, what is urgent, cards, groups with their thin riders. */
import { useQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import type { DayView, GroupView, Spoken } from '../../server/types.js';
import { groupQuery } from '../api/queries.js';
import { useGoOn } from '../keys/keyboard.js';
import { clockOf } from '../line/lineGeometry.js';
import { Bar, GroupLetter } from '../marks/Marks.js';
import { Absent, Sentences } from '../marks/Voices.js';
import { ApartPart } from './ApartPart.js';
import { CardsPart } from './CardsPart.js';
import { RiderRow, RiderTile } from './RiderTile.js';

export function DaySheet({ day }: { readonly day: DayView }) {
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: day.counts.questions > 0 ? '/questions' : '/choosing' }));
  return (
    <main id="sheet">
      <header className="opening">
        <h1 className="headline">
          <Headline of={day.headline} />
        </h1>
        {day.urgent.map((sentence) => (
          <p key={sentence} className="urgent">
            {sentence}
          </p>
        ))}
        <p className="lead">
          <Sentences of={day.lead} />
        </p>
        {isAtLunch(day) && (
          <p className="note">
            <Link to="/lunch">Lunch</Link>: whom to look for, what the kit did, and a better afternoon.
          </p>
        )}
        {day.measuring.left > 0 && day.counts.frames > 0 && (
          <Bar done={day.counts.frames - day.measuring.left} total={day.counts.frames} label="frames measured" />
        )}
      </header>
      <div className="first-columns">
        <CardsPart cards={day.cards} isFirstDay={day.counts.frames === 0} />
        <Waiting day={day} />
      </div>
      <NotSaid day={day} />
      <LeftOut sentences={day.leftOut} />
      <div className="groups">
        {day.groups.map((group) => (
          <GroupPart key={group.group?.key ?? '-'} group={group} thinBelow={day.thinBelowGoodFrames} />
        ))}
        <NeverSeen day={day} />
      </div>
      <ApartPart />
      <Notices notices={day.notices} />
    </main>
  );
}

const isAtLunch = ({ now, line: { lunch } }: DayView): boolean => lunch !== null && now >= lunch.from && now < lunch.to;

/** The count of riders in the sentence leads to all of them. */
function Headline({ of }: { readonly of: readonly Spoken[] }) {
  const [opening, ...rest] = of;
  const [, before, riders, after] = /^(.*?)([\d,]+ riders?)(?= (?:is|are) in)(.*)$/.exec(opening?.text ?? '') ?? [];
  if (riders === undefined || opening?.voice !== 'printed') return <Sentences of={of} />;
  return (
    <>
      {before}
      <Link to="/riders" search={{}} className="to-riders">
        {riders}
      </Link>
      {after}
      {rest.length > 0 && ' '}
      <Sentences of={rest} />
    </>
  );
}

/** Questions, most valuable first: what a person's minute is best spent on. */
function Waiting({ day }: { readonly day: DayView }) {
  return (
    <section className="part">
      <h2>
        Questions <span className="aside">{day.counts.questions === 0 ? 'none is open' : 'most valuable first'}</span>
      </h2>
      {day.counts.questions === 0 ? (
        <p className="note">Nothing is asked. Whatever the program is unsure of will stand here.</p>
      ) : (
        <>
          <ol className="rows">
            {day.questions.map((question) => (
              <li key={question.id}>
                <Link to="/questions" search={{ q: question.id }}>
                  {question.sentence}
                </Link>
              </li>
            ))}
          </ol>
          <p className="note">
            <kbd>Space</kbd> goes on to them.
          </p>
        </>
      )}
    </section>
  );
}

/** What a person has not said yet, each with the one thing to do. */
function NotSaid({ day }: { readonly day: DayView }) {
  const missing = [
    day.has.timetable ? null : 'the timetable: without it sessions carry figures and riders have no group',
    day.has.spots ? null : 'the spots: without them there are no wheels',
    day.has.spots && !day.has.stands ? 'where you stood: without it nothing can be called missed' : null,
  ].filter((sentence) => sentence !== null);
  if (missing.length === 0) return null;
  return (
    <section className="part not-said">
      <h2>Not said yet</h2>
      <ul className="rows">
        {missing.map((sentence) => (
          <li key={sentence}>
            <Absent>not said</Absent> {sentence}
          </li>
        ))}
      </ul>
      <p className="note">
        <Link to="/before">Say it on the sheet before</Link>; spots are drawn on{' '}
        <Link to="/circuit">the circuit’s sheet</Link>. It can be said at any time; the day is arranged again at once.
      </p>
    </section>
  );
}

/** Frames that stand in no session or show nothing, so that none is lost unseen. */
function LeftOut({ sentences }: { readonly sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <section className="part left-out">
      <h2>
        Frames left out <span className="aside">copied and kept, but not in the day</span>
      </h2>
      <ul className="rows">
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </section>
  );
}

function GroupPart({ group, thinBelow }: { readonly group: GroupView; readonly thinBelow: number }) {
  const name = group.group?.name ?? 'Group not known';
  return (
    <section className="part group">
      <h2>
        {group.group && <GroupLetter group={group.group} />} {name}
        <span className="aside">
          {group.riders.toLocaleString('en-GB')} {group.riders === 1 ? 'rider' : 'riders'}
          {group.goodAt.length > 0 && ', good at:'}
        </span>
      </h2>
      {group.goodAt.length > 0 && (
        <dl className="good-at">
          {group.goodAt.map((spot) => (
            <div key={spot.number}>
              <dt>
                <b>{spot.number}</b> <span>{spot.name}</span>
              </dt>
              <dd className={spot.isLowest ? 'lowest' : ''}>
                {spot.riders === null ? (
                  <span className="to-come">to come</span>
                ) : spot.riders === 0 ? (
                  'none'
                ) : (
                  spot.riders
                )}
              </dd>
            </div>
          ))}
        </dl>
      )}
      {group.riders === 0 ? (
        <p className="note">No rider of this group is in the pictures yet.</p>
      ) : (
        <p className="sub">
          {group.thin.length === 0 ? (
            'None is thin'
          ) : (
            <>
              <b>{group.thin.length}</b> thin <span>fewer than {thinBelow === 2 ? 'two' : thinBelow} good frames</span>
            </>
          )}
        </p>
      )}
      {group.thin.length > 0 && (
        <ul className="tiles">
          {group.thin.map((rider) => (
            <RiderTile key={rider.key} rider={rider} />
          ))}
        </ul>
      )}
      {group.wellEnough > 0 && <WellEnough groupKey={group.group?.key ?? '-'} count={group.wellEnough} name={name} />}
    </section>
  );
}

function WellEnough({
  groupKey,
  count,
  name,
}: {
  readonly groupKey: string;
  readonly count: number;
  readonly name: string;
}) {
  const [isOpen, setOpen] = useState(false);
  const { data, error } = useQuery({ ...groupQuery(groupKey), enabled: isOpen });
  return (
    <div className="well-enough">
      <p>
        <b>{count}</b> well enough{' '}
        <button
          type="button"
          className="word"
          aria-expanded={isOpen}
          aria-label={`${isOpen ? 'fold them' : 'show them'}, the ${count} of ${name}`}
          onClick={() => setOpen(!isOpen)}
        >
          {isOpen ? 'fold them' : 'show them'}
        </button>
      </p>
      {isOpen && error && <p className="urgent">{error.message}</p>}
      {isOpen && data && (
        <ul className="rider-rows">
          {data.riders.map((rider) => (
            <RiderRow key={rider.key} rider={rider} />
          ))}
        </ul>
      )}
    </div>
  );
}

function NeverSeen({ day }: { readonly day: DayView }) {
  if (day.neverSeen === null || day.neverSeen.length === 0) return null;
  return (
    <section className="part">
      <h2>
        In no frame <span className="aside">by the entry list</span>
      </h2>
      <ul className="rows">
        {day.neverSeen.map((entry) => (
          <li key={`${entry.number}-${entry.words}`}>
            {entry.words} {entry.number && <span className="plate small">{entry.number}</span>}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What happened that needs no answer: the newest first, each with when this desk heard of it. */
function Notices({ notices }: { readonly notices: DayView['notices'] }) {
  if (notices.length === 0) return null;
  return (
    <section className="part notices">
      <h2>
        What happened <span className="aside">newest first; nothing here waits for an answer</span>
      </h2>
      <ul className="rows">
        {[...notices].reverse().map(({ sentence, at }) => (
          <li key={sentence}>
            {at === null ? (
              <span className="earlier-than-desk">before this desk was opened:</span>
            ) : (
              <span className="figure">{clockOf(at)}</span>
            )}{' '}
            {sentence}
          </li>
        ))}
      </ul>
    </section>
  );
}

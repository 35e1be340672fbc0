/** The evening's end: proofs and gallery, made from the keepers. */
import { useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import type { ActionsView, ActionView } from '../../server/types.js';
import { desk } from '../api/client.js';
import { actionsQuery, queries } from '../api/queries.js';
import { HeldPart } from '../handover/HeldPart.js';
import { handoverQuery } from '../handover/handoverDesk.js';
import { PendingPart } from '../handover/PendingPart.js';
import { PlacesPart } from '../handover/PlacesPart.js';
import { Act } from '../keys/Act.js';
import { useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockOf } from '../line/lineGeometry.js';
import { leftWords } from '../marks/leftWords.js';
import { Bar } from '../marks/Marks.js';
import { Absent } from '../marks/Voices.js';
import { ask } from '../stores/said.js';
import { RiderRow } from './RiderTile.js';
import { Trouble } from './Trouble.js';

const WORDS = SHEET_WORDS.handOver;

/** Finals are made where the finish is said. */
type HandedOver = Exclude<ActionView['name'], 'finals'>;

const ABOUT: Readonly<Record<HandedOver, { readonly title: string; readonly words: string; readonly what: string }>> = {
  proofs: {
    title: 'Proofs',
    words: WORDS.proofs,
    what: 'Small copies of the keepers, 1,400 px, watermarked, without positions or serial numbers.',
  },
  gallery: {
    title: 'Gallery',
    words: WORDS.gallery,
    what: 'A folder for any web server: by session, colour and number; one tap brings all of a rider’s day.',
  },
};

export function HandOverSheet() {
  const { data, error } = useQuery(actionsQuery);
  const handover = useQuery(handoverQuery).data;
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/' }));
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return (
    <main id="sheet">
      <header className="opening">
        <h1 className="headline">
          {data.keepers === 0
            ? 'No keepers yet, so there is nothing to hand over.'
            : `${data.keepers.toLocaleString('en-GB')} keepers of ${data.riders} riders.`}
        </h1>
        <p className="lead">
          {data.frames < data.keepers &&
            `They are ${data.frames.toLocaleString('en-GB')} pictures: one that shows two riders is kept for each. `}
          Originals are never written to. What is made here can be made again.
        </p>
        {data.handedOver && (
          <p>
            Handed over last on {dayAndClock(data.handedOver.at)}, edition {data.handedOver.edition}:{' '}
            {data.handedOver.riders} riders with {data.handedOver.pictures.toLocaleString('en-GB')} pictures.
          </p>
        )}
      </header>
      <div className="two-columns">
        {(['proofs', 'gallery'] as const).map((name) => (
          <ActionPart key={name} name={name} view={data} />
        ))}
      </div>
      {handover && (
        <div className="two-columns">
          {handover.places && <PlacesPart places={handover.places} />}
          <div>
            <PendingPart pending={handover.pending} law={handover.law} />
            <HeldPart held={handover.held} />
          </div>
        </div>
      )}
      {data.withoutKeeper.length > 0 && (
        <section className="part without-keeper">
          <h2>
            Without a keeper <span className="aside">they would find nothing of theirs</span>
          </h2>
          <ul className="rider-rows">
            {data.withoutKeeper.map((rider) => (
              <RiderRow key={rider.key} rider={rider} />
            ))}
          </ul>
        </section>
      )}
    </main>
  );
}

const dayAndClock = (wall: number): string =>
  `${new Date(wall).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', timeZone: 'UTC' })} at ${clockOf(wall)}`;

function ActionPart({ name, view }: { readonly name: HandedOver; readonly view: ActionsView }) {
  const about = ABOUT[name];
  const action = view.actions.find((one) => one.name === name);
  const start = () =>
    void ask(`${about.title}: under way.`, () => desk.start(name)).then(() =>
      queries.invalidateQueries({ queryKey: ['actions'] }),
    );
  return (
    <section className="part">
      <h2>{about.title}</h2>
      <p>{about.what}</p>
      {!action ? (
        <p>
          <Absent>not here</Absent> This desk was opened without it.
        </p>
      ) : action.state === 'running' ? (
        <>
          <p className="sub">
            {name === 'gallery'
              ? `${action.done} %`
              : `${action.done.toLocaleString('en-GB')} of ${action.total.toLocaleString('en-GB')}`}
            {leftWords(action.secondsLeft)}
          </p>
          <Bar done={action.done} total={action.total} label={`${about.title} made`} />
        </>
      ) : (
        <>
          {action.sentence && <p className={action.state === 'failed' ? 'urgent' : 'sub'}>{action.sentence}</p>}
          <div className="acts">
            <Act
              words={about.words}
              kind="main"
              run={start}
              isOff={view.keepers === 0}
              why="There are no keepers yet."
            />
          </div>
        </>
      )}
    </section>
  );
}

/** What a rider, or a parent, may ask for: each says first what it does. */
import { useQuery } from '@tanstack/react-query';
import type { MinorSaid } from '../../core/log/minorSaid.js';
import type { RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Initialled } from '../marks/Voices.js';
import { riderSheet } from '../stores/riderSheet.js';
import { ask, sayThrough } from '../stores/said.js';
import { AboutWords } from './AboutWords.js';
import { aboutQuery, handoverDesk, handoverQuery } from './handoverDesk.js';
import { LawDone } from './PendingPart.js';

const WORDS = SHEET_WORDS.law;

const MINOR_WORDS = {
  'without-consent': 'a minor, no parent agreed',
  'with-consent': 'a minor, a parent agreed',
} as const;

export function LawPart({ view }: { readonly view: RiderView }) {
  const { rider, initials } = view;
  const { data } = useQuery(aboutQuery({ rider: rider.key }));
  const handover = useQuery(handoverQuery).data;
  const close = () => riderSheet.update((before) => ({ ...before, asking: null }));
  const minor = (text: string, is: MinorSaid) =>
    void sayThrough(`${rider.code} ${text}`, (gesture) => handoverDesk.minor(gesture, rider.key, is));
  return (
    <section className="part barring law-part">
      <h2>
        What may be asked for {rider.livery.words}, {rider.code}
      </h2>
      <AboutWords about={data} />
      {data?.minor && (
        <p>
          <Initialled text={MINOR_WORDS[data.minor]} initials={initials} />
        </p>
      )}
      <div className="acts boxes">
        {data?.minor !== 'without-consent' && (
          <Act
            words={WORDS.minor}
            kind="box"
            run={() => minor('is a minor, no parent agreed', 'without-consent')}
            consequence="No picture is shown and no name is told until a parent agrees. What is up leaves when the gallery is made and put up again; the order service sells it until it has that gallery’s offer."
          />
        )}
        {data?.minor !== 'with-consent' && (
          <Act
            words={WORDS.consent}
            kind="box"
            run={() => minor('is a minor, a parent agreed', 'with-consent')}
            consequence="Pictures are shown; no name stands beside them and no search finds it. Keep the parent’s paper."
          />
        )}
        {data?.minor && (
          <Act
            words={WORDS.ofAge}
            kind="box"
            run={() => minor('is of age', 'of-age')}
            consequence="Pictures are shown, and the name where the organiser allows it."
          />
        )}
        {handover?.places && (
          <Act
            words={WORDS.giveOut}
            kind="box"
            run={() =>
              void ask(`All that is known of ${rider.code}: being copied.`, () => handoverDesk.giveOut(rider.key))
            }
            consequence="Their pictures and all that is known of them are copied into a new folder. Nothing else changes: to undo it, delete the folder."
          />
        )}
        <Act words={WORDS.back} kind="box" run={close} consequence="To the passes." />
      </div>
      {handover && <LawDone law={handover.law} />}
      <p className="note">Ctrl+Z takes back what was said of age. Check with local law what applies.</p>
    </section>
  );
}

/** Asked twice, because no key takes it back: whether a picture or a rider goes from every gallery. */
import { useQuery } from '@tanstack/react-query';
import type { RiderView } from '../../server/types.js';
import { AboutWords } from '../handover/AboutWords.js';
import { aboutQuery, handoverDesk } from '../handover/handoverDesk.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Picture } from '../marks/Marks.js';
import { currentPass, markedFrames, riderSheet } from '../stores/riderSheet.js';
import { sayThrough } from '../stores/said.js';
import { useStore } from '../stores/store.js';

const WORDS = SHEET_WORDS.bar;

export function BarPart({ view, isRider }: { readonly view: RiderView; readonly isRider: boolean }) {
  const state = useStore(riderSheet);
  const pass = currentPass(view, state);
  const frame = (pass && markedFrames(pass, state)[0]) ?? null;
  const { rider } = view;
  const meant = isRider ? { rider: rider.key } : frame && { frame: frame.frameId };
  const about = useQuery({ ...aboutQuery(meant ?? { rider: rider.key }), enabled: meant !== null }).data;
  const close = () => riderSheet.update((before) => ({ ...before, asking: null }));
  const bar = () => {
    if (meant === null) return;
    close();
    const text = `${isRider ? rider.code : frame?.name} in no gallery`;
    void sayThrough(text, (gesture) => handoverDesk.takeDown(gesture, meant), 'for-good');
  };
  const picture = isRider ? rider.face : frame?.picture;
  const who = `${rider.livery.words}, ${rider.code}`;
  return (
    <section className="part barring">
      <h2>
        {isRider ? `Hide ${who}, from every gallery?` : `Bar ${frame?.name ?? 'this picture'} from every gallery?`}
      </h2>
      {picture && (
        <Picture picture={picture} alt={isRider ? who : 'The picture that is asked about'} isWhole={!isRider} />
      )}
      <p className="note">
        {isRider
          ? 'Every picture this rider is in goes, also those in which others ride along, and those found later.'
          : 'The picture goes for everyone who is in it.'}{' '}
        It stays away from galleries made later. Ctrl+Z does not take it back.
      </p>
      <AboutWords about={about} isDown />
      <div className="acts boxes">
        <Act
          words={WORDS.yes}
          kind="box"
          run={bar}
          consequence={isRider ? 'No picture of this rider is shown to anybody.' : 'This picture is shown to nobody.'}
        />
        <Act words={WORDS.back} kind="box" run={close} consequence="Everything stays as it is." />
      </div>
    </section>
  );
}

/** Asked twice, because no key takes it back: whether a picture or a rider goes from every gallery. */
import { v7 as uuidv7 } from 'uuid';
import type { RiderId } from '../../core/ids.js';
import type { RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Picture } from '../marks/Marks.js';
import { barRiderDecisions, currentPass, markedFrames, riderSheet } from '../stores/riderSheet.js';
import { sayForGood } from '../stores/said.js';
import { useStore } from '../stores/store.js';

const WORDS = SHEET_WORDS.bar;

export function BarPart({ view, isRider }: { readonly view: RiderView; readonly isRider: boolean }) {
  const state = useStore(riderSheet);
  const pass = currentPass(view, state);
  const frame = (pass && markedFrames(pass, state)[0]) ?? null;
  const { rider } = view;
  const close = () => riderSheet.update((before) => ({ ...before, asking: null }));
  const bar = () => {
    const decisions = isRider
      ? barRiderDecisions(view, uuidv7() as RiderId)
      : frame && [{ kind: 'take-down' as const, file: frame.file }];
    if (!decisions) return;
    close();
    void sayForGood(isRider ? `${rider.code} in no gallery` : `${frame?.name} in no gallery`, decisions);
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
        It goes when the gallery is made the next time, and stays away. Ctrl+Z does not take it back.
      </p>
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

/** Somebody pointed at a bike that is in a set already: their day stands there, and whether it is theirs is asked beside it. */
import { useNavigate } from '@tanstack/react-router';
import type { RiderView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Picture } from '../marks/Marks.js';
import { allPasses } from '../stores/riderSheet.js';

const WORDS = SHEET_WORDS.rider;

export function IsThisTheOne({ view, frame }: { readonly view: RiderView; readonly frame: string }) {
  const navigate = useNavigate();
  const shown = allPasses(view)
    .flatMap((pass) => pass.frames)
    .find(({ frameId }) => frameId === frame);
  if (!shown) return null;
  const bike = { of: shown.frameId, bike: shown.subject };
  return (
    <section className="part is-this-one">
      <h2>Is this the one?</h2>
      <Picture picture={shown.picture} alt="The bike that was pointed at" />
      <div className="acts">
        <Act
          words={WORDS.thisOne}
          kind="main"
          run={() => void navigate({ to: '.', search: ({ asks: _, ...rest }) => rest, replace: true })}
        />
        <Act words={WORDS.another} run={() => void navigate({ to: '/riders', search: bike })} />
      </div>
    </section>
  );
}

/** The set, spot by spot as on the wheel: what is kept there, what is missed, and how many frames there were to choose from. */
import { memo } from 'react';
import type { ChoosingView, RiderToChooseView, ToChooseFrameView } from '../../server/choosing/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockWithTenthsOf } from '../line/lineGeometry.js';
import { FrameMark, frameWords, Picture } from '../marks/Marks.js';
import { useStore } from '../stores/store.js';
import { allPlaces, isKept, isSame, looking, type Place, type SpotRow } from './looking.js';
import { QuotaPart } from './QuotaPart.js';

const WORDS = SHEET_WORDS.choosing;

export interface SetPartProps {
  readonly view: RiderToChooseView;
  readonly rows: readonly SpotRow[];
  readonly current: Place | null;
  readonly choosing: ChoosingView;
}

export function SetPart({ view, rows, current, choosing }: SetPartProps) {
  const { showsEveryPass } = useStore(looking);
  const kept = allPlaces(rows).filter(({ frame }) => isKept(frame));
  const said = kept.filter(({ frame }) => frame.kept === 'kept-by-person').length;
  return (
    <section className="set part">
      <h2>
        {showsEveryPass ? 'Every pass' : 'The set'}{' '}
        <span className="aside">
          {kept.length - said > 0 && <span className="pencil-words">{kept.length - said} proposed</span>}
          {kept.length - said > 0 && said > 0 && ', '}
          {said > 0 && <b>{said} by your word</b>}
          {kept.length === 0 && 'nothing kept'} of {view.rider.frames} {view.rider.frames === 1 ? 'frame' : 'frames'}
        </span>
      </h2>
      <ol className={`spot-rows${kept.length > MANY ? ' many' : ''}`}>
        {rows.map((row) => (
          <Row key={row.spot?.number ?? 'nowhere'} row={row} view={view} current={current} />
        ))}
      </ol>
      <div className="acts">
        <Act
          words={showsEveryPass ? WORDS.justSet : WORDS.everyPass}
          run={() => looking.update((before) => ({ ...before, showsEveryPass: !before.showsEveryPass }))}
        />
      </div>
      <QuotaPart choosing={choosing} />
    </section>
  );
}

/** More than this are drawn smaller, so that all of them are seen at once. */
const MANY = 15;

const STATE_WORDS = { missed: 'missed', 'to-come': 'still to come', unsure: 'frames, none sure to be good' } as const;

function Row({ row, view, current }: { readonly row: SpotRow } & Pick<SetPartProps, 'view' | 'current'>) {
  const count = row.places.filter(({ frame }) => isKept(frame)).length;
  return (
    <li className={row.places.length === 0 ? 'empty' : ''}>
      <p className="spot-name">
        {row.spot ? (
          <>
            <b>{row.spot.number}</b> {row.spot.name}
          </>
        ) : (
          'at no spot that was said'
        )}{' '}
        <span className={`kept-there${row.state === 'missed' ? ' missed' : ''}`}>
          {row.state !== null && row.state !== 'good' && row.frames === 0
            ? STATE_WORDS[row.state]
            : `${count === 0 ? 'none' : count} of ${row.frames}`}
        </span>
      </p>
      {row.places.length > 0 && (
        <ul>
          {row.places.map((place) => (
            <PlaceTile
              key={`${place.frame.frameId}/${place.frame.subject}`}
              frame={place.frame}
              session={place.pass.session}
              words={view.rider.livery.words}
              isCurrent={isSame(place.frame, current?.frame ?? null)}
            />
          ))}
        </ul>
      )}
    </li>
  );
}

interface PlaceTileProps {
  readonly frame: ToChooseFrameView;
  readonly session: string;
  readonly words: string;
  readonly isCurrent: boolean;
}

/** Space goes on even from here: it must not press a picture again. */
const PlaceTile = memo(function PlaceTile({ frame, session, words, isCurrent }: PlaceTileProps) {
  const label = `${words}, ${session}, ${frame.wall === null ? frame.name : clockWithTenthsOf(frame.wall)}, ${frameWords(frame)}`;
  return (
    <li>
      <button
        type="button"
        data-decides=""
        tabIndex={isCurrent ? 0 : -1}
        className={`place${isKept(frame) ? '' : ' not-kept'}`}
        aria-label={label}
        aria-current={isCurrent ? 'true' : undefined}
        onClick={() => looking.update((before) => ({ ...before, current: frame, beside: null }))}
      >
        <Picture picture={frame.picture} alt="" isEager />
        <span className="place-mark">
          <FrameMark frame={frame} />
        </span>
      </button>
    </li>
  );
});

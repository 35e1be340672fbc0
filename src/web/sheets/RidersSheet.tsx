/** All riders as crops with wheels, found by colour, number, group and time; and who the bike of one frame may be. */
import { useQuery } from '@tanstack/react-query';
import { Link, useNavigate } from '@tanstack/react-router';
import { type ReactNode, useMemo, useState } from 'react';
import type { DayView, FoundRiderView, LikeliestView, RidersView } from '../../server/types.js';
import { likeliestQuery, ridersQuery } from '../api/queries.js';
import { Act } from '../keys/Act.js';
import { useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { isWithin, type Stretch } from '../line/stretch.js';
import { GroupLetter } from '../marks/Marks.js';
import { findRiders, isWished, NO_WISH, type Wish, wished } from '../stores/findRiders.js';
import { useStore } from '../stores/store.js';
import { AskFor } from './AskFor.js';
import { FoundTile, type Shown } from './FoundTile.js';
import { HeldTo } from './StretchSheet.js';
import { ThisOne } from './ThisOne.js';
import { Trouble } from './Trouble.js';
import { UnplacedPart } from './UnplacedPart.js';
import { useTileArrows, useUnhurried } from './useTiles.js';

const WORDS = SHEET_WORDS.riders;

export interface RidersSheetProps {
  readonly day: DayView;
  /** A frame, and which of its bikes: the riders then stand by how well they fit it. */
  readonly of: string | undefined;
  readonly bike: number | undefined;
  readonly stretch: Stretch | null;
}

export function RidersSheet({ day, of, bike, stretch }: RidersSheetProps) {
  const riders = useQuery(ridersQuery);
  const likeliest = useQuery({ ...likeliestQuery(of ?? '', bike), enabled: of !== undefined });
  const error = riders.error ?? (of === undefined ? null : likeliest.error);
  if (error) return <Trouble sentence={error.message} />;
  if (!riders.data || (of !== undefined && !likeliest.data)) return <main id="sheet" aria-busy="true" />;
  const view = heldTo(riders.data, stretch);
  return (
    <Sheet
      key={`${of ?? ''} ${bike ?? ''}`}
      view={view}
      day={day}
      stretch={stretch}
      one={of === undefined ? null : (likeliest.data ?? null)}
    />
  );
}

/** Those who went by in the stretch. */
const heldTo = (view: RidersView, stretch: Stretch | null): RidersView =>
  stretch === null
    ? view
    : {
        ...view,
        riders: view.riders.filter((found) => found.passedAt.some((wall) => isWithin(stretch, wall))),
        unplaced: view.unplaced.filter((pass) => isWithin(stretch, pass.start)),
      };

interface SheetProps {
  readonly view: RidersView;
  readonly day: DayView;
  readonly stretch: Stretch | null;
  readonly one: LikeliestView | null;
}

interface Part {
  readonly heading: ReactNode;
  readonly id: string;
  readonly aside: string | null;
  readonly shown: readonly Shown[];
  /** Folded away behind those shown. */
  readonly folded?: number;
}

/** From here on a press shows at once and the riders come in order behind it; fewer are as quick as the press. */
const MANY = 150;

/** Nobody looks further down a list that begins with the likeliest. */
const MOST_LIKELY = 24;

const counted = (count: number, one: string, many: string): string =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

/** All of them, or with a bike asked about those it may be, in the desk's order. */
function shownOf(riders: readonly FoundRiderView[], one: LikeliestView | null): readonly Shown[] {
  if (one === null) return riders.map((found) => ({ found, fit: null }));
  const byKey = new Map(riders.map((found) => [found.rider.key, found]));
  return one.riders.flatMap((fit) => {
    const found = byKey.get(fit.key);
    return found ? [{ found, fit }] : [];
  });
}

function partsOf(
  { view, day, one }: Pick<SheetProps, 'view' | 'day' | 'one'>,
  wish: Wish,
  isUnfolded: boolean,
): readonly Part[] {
  const show = (riders: readonly FoundRiderView[]) => shownOf(riders, one);
  if (isWished(wish)) {
    const { fits, near } = findRiders(view, wish);
    return [
      { id: 'fits', heading: 'Fits what is asked', aside: counted(fits.length, 'rider', 'riders'), shown: show(fits) },
      {
        id: 'near',
        heading: 'Perhaps meant',
        aside: 'a colour beside it, a number not read or read in part',
        shown: show(near),
      },
    ].filter((part) => part.shown.length > 0);
  }
  if (one) {
    const all = show(view.riders);
    const shown = isUnfolded ? all : all.slice(0, MOST_LIKELY);
    const folded = all.length - shown.length;
    return [
      {
        id: 'likely',
        heading: 'Who this could be',
        aside: 'who has it or is guessed first, then most alike',
        shown,
        folded,
      },
    ];
  }
  return [...day.groupKeys, null]
    .map((group) => ({
      id: group?.key ?? '-',
      heading: group ? (
        <>
          <GroupLetter group={group} /> {group.name}
        </>
      ) : (
        'Group not known'
      ),
      shown: show(view.riders.filter((found) => (found.group?.key ?? null) === (group?.key ?? null))),
    }))
    .filter((part) => part.shown.length > 0)
    .map((part) => ({ ...part, aside: counted(part.shown.length, 'rider', 'riders') }));
}

function Sheet({ view, day, stretch, one }: SheetProps) {
  const asked = useStore(wished);
  const { wish, catchUp } = useUnhurried(asked, view.riders.length > MANY);
  const [isUnfolded, setUnfolded] = useState(false);
  const navigate = useNavigate();
  useGoOn(() => void navigate({ to: '/questions' }));
  const parts = useMemo(() => partsOf({ view, day, one }, wish, isUnfolded), [view, day, one, wish, isUnfolded]);
  const all = useMemo(() => parts.flatMap((part) => part.shown), [parts]);
  const { at, boxes, setAt } = useTileArrows(all, one?.isUnplaced === true, catchUp);
  const everyone = () => {
    wished.set(NO_WISH);
    if (one) void navigate({ to: '/riders', search: {} });
  };
  return (
    <main id="sheet" className={`riders-sheet${one ? ' of-one' : ''}`}>
      <header className="opening">
        <h1 className="headline">{headlineOf({ view, stretch, one }, wish)}</h1>
        {stretch && <HeldTo stretch={stretch} words={WORDS.wholeDay} />}
      </header>
      {one && <ThisOne one={one} chosen={all[at] ?? null} owner={ownerOf(view, one)} />}
      <div className="riders-found">
        {view.riders.length > 0 && <AskFor view={view} day={day} wish={asked} />}
        {(one || isWished(asked)) && (
          <div className="acts">
            <Act words={WORDS.everyone} run={everyone} />
          </div>
        )}
        {!one && !isWished(wish) && <UnplacedPart view={view} />}
        {parts.length === 0 && (!stretch || view.riders.length > 0) && <Nobody wish={wish} view={view} />}
        {parts.map((part) => (
          <section key={part.id} className="part">
            <h2>
              {part.heading}
              {part.aside && <span className="aside">{part.aside}</span>}
            </h2>
            <ul className="tiles large">
              {part.shown.map((shown) => {
                const place = all.indexOf(shown);
                return (
                  <FoundTile
                    key={shown.found.rider.key}
                    shown={shown}
                    isCurrent={place === at}
                    place={place}
                    boxes={boxes}
                    isToMark={one?.isUnplaced === true}
                    initials={one?.initials}
                    mark={setAt}
                  />
                );
              })}
            </ul>
            {part.folded !== undefined && part.folded > 0 && (
              <button type="button" className="word" onClick={() => setUnfolded(true)}>
                show the other {part.folded}
              </button>
            )}
          </section>
        ))}
      </div>
    </main>
  );
}

const ownerOf = (view: RidersView, one: LikeliestView): FoundRiderView | null => {
  const has = one.riders.find(({ standing }) => standing.kind === 'placed' || standing.kind === 'said');
  return view.riders.find(({ rider }) => rider.key === has?.key) ?? null;
};

function headlineOf({ view, stretch, one }: Omit<SheetProps, 'day'>, wish: Wish): string {
  if (one) return one.isUnplaced ? 'Whose is this one?' : 'Who this one could be.';
  if (isWished(wish)) {
    const { fits, near } = findRiders(view, wish);
    const perhaps = near.length === 0 ? '' : `; ${near.length} more may be meant`;
    return `${fits.length === 0 ? 'Nobody' : counted(fits.length, 'rider', 'riders')} of ${view.riders.length.toLocaleString('en-GB')} ${fits.length < 2 ? 'fits' : 'fit'}${perhaps}.`;
  }
  if (view.riders.length === 0)
    return stretch ? 'No rider was seen in this stretch.' : 'No rider is in the pictures yet.';
  const open = view.unplaced.length;
  const rest = open === 0 ? '' : `; ${counted(open, 'pass is', 'passes are')} not placed yet`;
  return `${counted(view.riders.length, 'rider', 'riders')}${rest}.`;
}

function Nobody({ wish, view }: { readonly wish: Wish; readonly view: RidersView }) {
  if (view.riders.length === 0)
    return (
      <p className="lead">
        <Link to="/">Bring in a card</Link>; riders stand here as their frames are measured.
      </p>
    );
  const unread = view.riders.filter((found) => found.rider.number === null).length;
  return (
    <p className="lead">
      Nobody fits. Take something back that is asked for; a colour in shade may go by another name.
      {wish.number !== '' && unread > 0 && ` Of ${counted(unread, 'rider', 'riders')} no number was read.`}
    </p>
  );
}

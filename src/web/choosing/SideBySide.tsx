/** Two frames beside each other: whole, and between them helmet by helmet, number by number, tail by tail, at one scale. */
import type { CloseLookView, CropView, PartView } from '../../server/judging/types.js';
import { Act } from '../keys/Act.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockWithTenthsOf } from '../line/lineGeometry.js';
import { FrameMark } from '../marks/Marks.js';
import { Absent, Initialled, Voice } from '../marks/Voices.js';
import { useStore } from '../stores/store.js';
import { CloseShot } from './CloseShot.js';
import type { Looks } from './choosingQueries.js';
import { nameOf } from './framesSaid.js';
import { looking, type Place } from './looking.js';
import { partInWhole } from './partInWhole.js';
import { frameKind } from './words.js';

const WORDS = SHEET_WORDS.choosing;

export interface SideBySideProps {
  readonly current: Place;
  readonly beside: Place | null;
  readonly looks: Looks;
  readonly initials: string;
}

export function SideBySide({ current, beside, looks, initials }: SideBySideProps) {
  const { drawsEvidence } = useStore(looking);
  const lookOf = (place: Place | null) => (place ? looks.get(nameOf(place.frame)) : undefined);
  const side = (place: Place, letter: 'L' | 'R') => (
    <figure className="side" key={letter}>
      <SideHead place={place} letter={letter} where={whereIfElse(place, current)} initials={initials} />
      <CloseShot frame={place.frame} look={lookOf(place)} drawsEvidence={drawsEvidence} />
      <figcaption className="note">
        <span className="printed">
          {[place.frame.shot, place.frame.name].filter((part) => part !== '').join(' · ')}
        </span>
        <Judged look={lookOf(place)} />
      </figcaption>
    </figure>
  );
  return (
    <div className="side-by-side">
      {side(current, 'L')}
      <PartsBeside left={lookOf(current)} right={lookOf(beside)} />
      {beside ? (
        side(beside, 'R')
      ) : (
        <div className="side alone">
          <Absent>the only frame of this pass</Absent>
        </div>
      )}
    </div>
  );
}

export function SideHead({
  place: { frame },
  letter,
  where = null,
  initials,
}: {
  readonly place: Place;
  readonly letter: 'L' | 'R';
  /** Session and spot, where it is of another pass. */
  readonly where?: string | null;
  readonly initials: string;
}) {
  return (
    <p className="side-head">
      <span className="disc">
        <span className="sr">{letter === 'L' ? 'left' : 'right'}</span>
        <span aria-hidden="true">{letter}</span>
      </span>
      <span className="figure">{frame.wall === null ? frame.name : clockWithTenthsOf(frame.wall)}</span>
      {where !== null && <span className="note">{where}</span>}
      <KeptWord frame={frame} initials={initials} />
      <span className="frame-kind">
        <FrameMark frame={{ ...frame, kept: null }} /> {frameKind(frame)}
      </span>
    </p>
  );
}

export const whereIfElse = ({ pass }: Place, current: Place): string | null =>
  pass === current.pass ? null : `${pass.session}${pass.spot ? `, ${pass.spot.number} ${pass.spot.name}` : ''}`;

function KeptWord({ frame, initials }: { readonly frame: Place['frame']; readonly initials: string }) {
  switch (frame.kept) {
    case 'proposed':
      return <span className="pencil-words">proposed</span>;
    case 'kept-by-person':
      return <Initialled text="kept" initials={initials} />;
    case 'left-out':
      return <Initialled text="left out" initials={initials} />;
    case null:
      return null;
  }
}

/** What was judged, by the numbers drawn on the picture. */
function Judged({ look }: { readonly look: CloseLookView | undefined }) {
  if (look === undefined) return null;
  const { judgement } = look;
  switch (judgement.kind) {
    case 'waiting':
      return <Absent>not yet looked at closely</Absent>;
    case 'absent':
      return <Absent>{judgement.sentence}</Absent>;
    case 'judged':
      return (
        <span className="judged">
          {judgement.evidence.map(({ sentence }, i) => (
            <span key={sentence} className="printed">
              <b>{i + 1}</b> {sentence}{' '}
            </span>
          ))}
          {judgement.words.map((spoken) => (
            <span key={spoken.text}>
              <Voice spoken={spoken} />{' '}
            </span>
          ))}
        </span>
      );
  }
}

const PARTS = ['helmet', 'number', 'tail'] as const;

interface PartsBesideProps {
  readonly left: CloseLookView | undefined;
  readonly right: CloseLookView | undefined;
}

function PartsBeside({ left, right }: PartsBesideProps) {
  const { drawsEvidence } = useStore(looking);
  const partOf = (look: CloseLookView | undefined, what: PartView['what']) =>
    look?.parts.find((part) => part.what === what) ?? null;
  const shown = PARTS.filter((what) => partOf(left, what) ?? partOf(right, what));
  return (
    <div className="parts-beside">
      <p className="parts-head">edge, px of the picture</p>
      {shown.length === 0 ? (
        <Absent>{partsAbsent(left)}</Absent>
      ) : (
        shown.map((what) => (
          <div key={what} className="part-pair">
            <p>
              <Edge part={partOf(left, what)} />
              <b>{what}</b>
              <Edge part={partOf(right, what)} />
            </p>
            <PartShot part={partOf(left, what)} whole={left?.whole ?? null} words={`${what}, left`} />
            <PartShot part={partOf(right, what)} whole={right?.whole ?? null} words={`${what}, right`} />
          </div>
        ))
      )}
      <Act
        words={drawsEvidence ? WORDS.noEvidence : WORDS.drawEvidence}
        run={() => looking.update((before) => ({ ...before, drawsEvidence: !before.drawsEvidence }))}
      />
    </div>
  );
}

function partsAbsent(look: CloseLookView | undefined): string {
  if (look?.judgement.kind === 'waiting') return 'helmet and number not yet looked for';
  return look?.judgement.kind === 'absent' ? 'not looked at closely' : 'no helmet or number found';
}

const Edge = ({ part }: { readonly part: PartView | null }) => (
  <span className="figure">{part?.edgePx == null ? '' : part.edgePx.toFixed(1)}</span>
);

interface PartShotProps {
  readonly part: PartView | null;
  readonly whole: CropView | null;
  readonly words: string;
}

function PartShot({ part, whole, words }: PartShotProps) {
  if (part === null) return <span className="part-shot" />;
  const window = whole && partInWhole(part, whole);
  return (
    <span className="part-shot">
      {whole && window ? (
        <img className="cut-out" style={window} src={whole.src} alt={words} draggable={false} decoding="sync" />
      ) : (
        <img src={part.src} alt={words} width={part.widthPx} height={part.heightPx} draggable={false} />
      )}
    </span>
  );
}

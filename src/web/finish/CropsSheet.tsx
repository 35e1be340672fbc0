/** Crops of one keeper after another: drawn over it as the rule has them, moved by arrows or by hand, and said. */
import { queryOptions, useQuery } from '@tanstack/react-query';
import { useNavigate } from '@tanstack/react-router';
import { useState } from 'react';
import { cropMoved, cropSized, largestCrop } from '../../core/finish/crops/byHand.js';
import type { FrameId } from '../../core/ids.js';
import type { Ratio } from '../../core/log/finishSaid.js';
import type { Decision } from '../../core/log/types.js';
import type { Box } from '../../core/measure/types.js';
import type { CropsView } from '../../server/finish/types.js';
import { desk } from '../api/client.js';
import { Act } from '../keys/Act.js';
import { useArrows, useGoOn } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { Initialled } from '../marks/Voices.js';
import { Trouble } from '../sheets/Trouble.js';
import { say } from '../stores/said.js';
import { CropPicture } from './CropPicture.js';
import { cropsHeadline, type Moved, ratioWords, type ShownCrop, shownCrops } from './cropWords.js';

const WORDS = SHEET_WORDS.crops;
/** Of the picture's width or height at one press. */
const STEP = 0.005;
const FAR_STEPS = 8;
const CLOSER = 0.95;
const USUAL_ASPECT = 1.5;

export const cropsQuery = (frame: string | undefined) =>
  queryOptions({ queryKey: ['finish', 'crops', frame ?? ''], queryFn: () => desk.crops(frame) });

export function CropsSheet({ frame }: { readonly frame: string | undefined }) {
  const { data, error } = useQuery(cropsQuery(frame));
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  return <Cropping key={data.frameId + JSON.stringify(data.crops)} view={data} />;
}

/** What is moved lives here until it is said; what is said makes the sheet anew. */
function Cropping({ view }: { readonly view: CropsView }) {
  const navigate = useNavigate();
  const [moved, setMoved] = useState<Moved>({});
  const ratios = view.crops.map(({ ratio }) => ratio);
  const [chosen, setChosen] = useState<Ratio | undefined>(lastChosen(ratios));
  const aspect = view.widthPx && view.heightPx ? view.widthPx / view.heightPx : USUAL_ASPECT;
  const crops = shownCrops(view, moved);
  const choose = (ratio: Ratio) => {
    last = ratio;
    setChosen(ratio);
  };
  const put = (ratio: Ratio, box: Box) => setMoved((before) => ({ ...before, [ratio]: box }));
  const change = (how: (box: Box) => Box) => {
    if (chosen === undefined) return;
    const now = crops.find(({ ratio }) => ratio === chosen)?.box ?? largestCrop(chosen, aspect);
    setMoved((before) => ({ ...before, [chosen]: how(before[chosen] ?? now) }));
  };
  const steps = (step: number, isFar: boolean) => STEP * step * (isFar ? FAR_STEPS : 1);
  useArrows({
    across: (step, isFar) => change((box) => cropMoved(box, steps(step, isFar), 0)),
    along: (step, isFar) => change((box) => cropMoved(box, 0, steps(step, isFar))),
  });
  const isMoved = Object.keys(moved).length > 0;
  const set = () => void say('A crop was set', saidOf(view, moved));
  /** What was moved is meant: whoever goes on has set it, and can take it back. */
  const leaveFor = (to: '/finish' | '/finish/crops', frame?: FrameId) => {
    if (isMoved) set();
    void navigate({ to, search: frame === undefined ? {} : { frame } });
  };
  const goTo = (frame: FrameId) => leaveFor('/finish/crops', frame);
  useGoOn(() => {
    if (view.next !== null) return goTo(view.next);
    if (isMoved) set();
    void navigate({ to: '/gallery' });
  });
  return (
    <main id="sheet" className="crops-sheet">
      <header className="opening">
        <h1 className="headline">{cropsHeadline(view)}</h1>
        <p className="lead">
          {view.spot}.{' '}
          {ratios.length === 0
            ? 'The finish asks for no shape, so pictures are left as they are: shapes are ticked on its sheet.'
            : 'The rule cuts nothing of bike or rider; what you set stands.'}
        </p>
      </header>
      <CropPicture view={view} aspect={aspect} crops={crops} chosen={chosen} choose={choose} put={put} />
      <div className="crop-words">
        <CropList crops={crops} chosen={chosen} initials={view.initials} />
        <div className="acts">
          {ratios.length > 0 && (
            <Act words={WORDS.set} kind="main" isOff={!isMoved} why="Nothing was moved." run={set} />
          )}
          {ratios.length > 1 && <Act words={WORDS.other} run={() => choose(ratioAfter(chosen, ratios))} />}
          {ratios.length > 0 && <Act words={WORDS.closer} run={() => change((box) => cropSized(box, CLOSER))} />}
          {ratios.length > 0 && <Act words={WORDS.wider} run={() => change((box) => cropSized(box, 1 / CLOSER))} />}
          {isMoved && <Act words={WORDS.letBe} run={() => setMoved({})} />}
          {chosen !== undefined && isSaid(view, chosen) && (
            <Act
              words={WORDS.rule}
              run={() =>
                void say('A crop is the rule’s again', [{ kind: 'crop-of', file: view.file, ratio: chosen, box: null }])
              }
            />
          )}
        </div>
        <div className="acts">
          {view.next !== null && <Act words={WORDS.next} run={() => goTo(view.next!)} />}
          {view.before !== null && <Act words={WORDS.before} run={() => goTo(view.before!)} />}
          {view.nextWhole !== null && <Act words={WORDS.whole} run={() => goTo(view.nextWhole!)} />}
          <Act words={WORDS.alone} run={() => leaveFor('/finish', view.frameId)} />
          <Act words={WORDS.back} run={() => leaveFor('/finish')} />
        </div>
        <p className="fine">
          Arrows move the chosen frame, with Shift by eight; so does dragging. No picture is made larger than 100 %.
        </p>
      </div>
    </main>
  );
}

/** The shape somebody works on stays chosen from keeper to keeper. */
let last: Ratio | undefined;
const lastChosen = (ratios: readonly Ratio[]): Ratio | undefined =>
  last !== undefined && ratios.includes(last) ? last : ratios[0];

const ratioAfter = (ratio: Ratio | undefined, ratios: readonly Ratio[]): Ratio =>
  ratios[(ratios.indexOf(ratio ?? ratios[0]!) + 1) % ratios.length]!;

const saidOf = ({ file, crops, turnDeg }: CropsView, moved: Moved): readonly Decision[] =>
  crops.flatMap(({ ratio }): readonly Decision[] => {
    const box = moved[ratio];
    return box ? [{ kind: 'crop-of', file, ratio, box, turnDeg }] : [];
  });

const isSaid = ({ crops }: CropsView, chosen: Ratio): boolean =>
  crops.some(({ ratio, crop }) => ratio === chosen && crop.kind === 'crop' && crop.source === 'said');

interface CropListProps {
  readonly crops: readonly ShownCrop[];
  readonly chosen: Ratio | undefined;
  readonly initials: string;
}

function CropList({ crops, chosen, initials }: CropListProps) {
  return (
    <ul className="crop-list">
      {crops.map(({ ratio, source, words, isCutting }) => (
        <li key={ratio} className={ratio === chosen ? 'chosen' : ''}>
          <b>{ratioWords(ratio)}</b> <SourceWords source={source} initials={initials} /> {words}
          {isCutting && <strong className="cuts"> It cuts into bike or rider.</strong>}
        </li>
      ))}
    </ul>
  );
}

/** Whose crop it is: the rule's is pencilled, a person's has their initials. */
function SourceWords({ source, initials }: { readonly source: ShownCrop['source']; readonly initials: string }) {
  switch (source) {
    case 'rule':
      return <span className="pencil-words">by the rule,</span>;
    case 'said':
      return <Initialled text="set by hand" initials={initials} />;
    case 'moved':
      return 'moved, set when you go on:';
    case 'whole':
      return null;
  }
}

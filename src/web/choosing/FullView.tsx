/** The bike at 100 %: one pixel of the picture is one of the screen. Both sides move together, by arrows, wheel or finger. */
import { type RefObject, useLayoutEffect, useRef } from 'react';
import type { CloseLookView } from '../../server/judging/types.js';
import { useArrows, useEscape } from '../keys/keyboard.js';
import { Absent } from '../marks/Voices.js';
import { useStore } from '../stores/store.js';
import { CloseShot, Evidence, evidenceOf } from './CloseShot.js';
import { nameOf } from './framesSaid.js';
import { looking, type Place } from './looking.js';
import { type SideBySideProps, SideHead } from './SideBySide.js';

const STEP_PX = 90;
const FAR_PX = 360;

export function FullView({ current, beside, looks, initials }: SideBySideProps) {
  const left = useRef<HTMLElement>(null);
  const right = useRef<HTMLElement>(null);
  const move = (x: number, y: number) => {
    for (const pane of [left, right]) pane.current?.scrollBy(x, y);
  };
  const by = (step: 1 | -1, isFar: boolean) => step * (isFar ? FAR_PX : STEP_PX);
  useArrows({
    across: (step, isFar) => move(by(step, isFar), 0),
    along: (step, isFar) => move(0, by(step, isFar)),
  });
  useEscape(() => looking.update((before) => ({ ...before, isFull: false })));
  const lookOf = (place: Place) => looks.get(nameOf(place.frame));
  return (
    <div className="full-view">
      <Pane pane={left} place={current} letter="L" look={lookOf(current)} initials={initials} other={right} />
      {beside && <Pane pane={right} place={beside} letter="R" look={lookOf(beside)} initials={initials} other={left} />}
    </div>
  );
}

interface PaneProps {
  readonly pane: RefObject<HTMLElement | null>;
  readonly other: RefObject<HTMLElement | null>;
  readonly place: Place;
  readonly letter: 'L' | 'R';
  readonly look: CloseLookView | undefined;
  readonly initials: string;
}

/** Where the eye goes first: what was looked at most, else the middle. */
function middleOf(look: CloseLookView | undefined): readonly [x: number, y: number] {
  const looked = evidenceOf(look).find(({ what }) => what === 'looked at' || what === 'edges')?.box;
  return looked ? [looked[0] + looked[2] / 2, looked[1] + looked[3] / 2] : [0.5, 0.45];
}

function Pane({ pane, other, place, letter, look, initials }: PaneProps) {
  const { drawsEvidence } = useStore(looking);
  const whole = look?.whole ?? null;
  const [x, y] = middleOf(look);
  useLayoutEffect(() => {
    const box = pane.current;
    if (!box || whole === null) return;
    box.scrollTo(box.scrollWidth * x - box.clientWidth / 2, box.scrollHeight * y - box.clientHeight / 2);
  }, [pane, whole, x, y]);
  // The other side follows by as much as this one moved, for two crops are never quite as large as each other.
  const before = useRef<readonly [number, number] | null>(null);
  const follow = () => {
    const box = pane.current;
    if (!box) return;
    const now = [box.scrollLeft, box.scrollTop] as const;
    const then = before.current ?? now;
    before.current = now;
    if (box.matches(':hover') && other.current) other.current.scrollBy(now[0] - then[0], now[1] - then[1]);
  };
  return (
    <figure className="side">
      <SideHead place={place} letter={letter} initials={initials} />
      {whole === null ? (
        <>
          <CloseShot frame={place.frame} look={look} drawsEvidence={false} />
          <Absent>not at 100 %: {absentWords(look)}</Absent>
        </>
      ) : (
        <section
          className="pane"
          ref={pane}
          // biome-ignore lint/a11y/noNoninteractiveTabindex: what can be moved must be reached by Tab
          tabIndex={0}
          aria-label={`${letter === 'L' ? 'Left' : 'Right'} at 100 %`}
          onScroll={follow}
        >
          <span
            className="at-full"
            style={{
              inlineSize: `${whole.widthPx / window.devicePixelRatio}px`,
              blockSize: `${whole.heightPx / window.devicePixelRatio}px`,
            }}
          >
            <img src={whole.src} alt={place.frame.name} draggable={false} decoding="sync" />
            {drawsEvidence && <Evidence look={look} />}
          </span>
        </section>
      )}
    </figure>
  );
}

const absentWords = (look: CloseLookView | undefined): string => {
  if (look === undefined) return 'it is being cut out';
  return look.judgement.kind === 'absent' ? look.judgement.sentence : 'neither a crop nor the original is here';
};

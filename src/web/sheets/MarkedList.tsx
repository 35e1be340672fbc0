/** Pictures of which any number is marked: none, marked, not sure, none again; by arrows and comma, or by tap. */
import { type ReactNode, useRef, useState } from 'react';
import type { WallMs } from '../../core/units.js';
import type { PictureView, RiderLineView } from '../../server/types.js';
import { Act } from '../keys/Act.js';
import { useArrows, useLetter } from '../keys/keyboard.js';
import { SHEET_WORDS } from '../keys/sheetKeys.js';
import { clockWithTenthsOf } from '../line/lineGeometry.js';
import { Picture, Plate, Tabs } from '../marks/Marks.js';
import { Absent, Gauge } from '../marks/Voices.js';

/** Left and right along boxes that take the focus. */
export function useBoxes(count: number) {
  const [at, setAt] = useState(0);
  const boxes = useRef<(HTMLButtonElement | null)[]>([]);
  useArrows({
    across: (step) => {
      const next = Math.min(count - 1, Math.max(0, at + step));
      setAt(next);
      boxes.current[next]?.focus();
    },
  });
  return { at, setAt, boxes };
}

type Mark = 'marked' | 'unsure';
const NEXT_MARK: Readonly<Record<Mark, Mark | null>> = { marked: 'unsure', unsure: null };
const PRESSED = { marked: true, unsure: 'mixed' } as const;

export function useMarks(count: number) {
  const { at, setAt, boxes } = useBoxes(count);
  const [marks, setMarks] = useState<ReadonlyMap<number, Mark>>(new Map());
  const set = (index: number, mark: Mark | null) => {
    const others = [...marks].filter(([i]) => i !== index);
    setMarks(new Map(mark === null ? others : [...others, [index, mark]]));
  };
  const turn = (index: number) => {
    const before = marks.get(index);
    set(index, before === undefined ? 'marked' : NEXT_MARK[before]);
  };
  useLetter(',', () => turn(at));
  const those = (wanted: Mark | undefined): readonly number[] =>
    Array.from({ length: count }, (_, i) => i).filter((i) => marks.get(i) === wanted);
  const unsure = those('unsure');
  return {
    at,
    setAt,
    boxes,
    turn,
    markOf: (index: number) => marks.get(index) ?? null,
    leaveOpen: () => set(at, marks.get(at) === 'unsure' ? null : 'unsure'),
    marked: those('marked'),
    unsure,
    free: those(undefined),
    unsureWords: unsure.length === 0 ? '' : `; of ${unsure.length} nothing is said`,
  };
}

type Marks = ReturnType<typeof useMarks>;

export interface MarkedOne {
  readonly key: string;
  readonly picture: PictureView;
  readonly alt: string;
  readonly wall: WallMs | null;
  readonly confidence: number;
  readonly words?: ReactNode;
}

export function MarkedList({ marks, shown }: { readonly marks: Marks; readonly shown: readonly MarkedOne[] }) {
  return (
    <>
      <ol className="candidates">
        {shown.map((one, i) => {
          const mark = marks.markOf(i);
          return (
            <li key={one.key}>
              <button
                ref={(element) => {
                  marks.boxes.current[i] = element;
                }}
                type="button"
                className={mark ?? ''}
                aria-pressed={mark === null ? false : PRESSED[mark]}
                onFocus={() => marks.setAt(i)}
                onClick={() => marks.turn(i)}
              >
                <span className="place">{i + 1}</span>
                <span className="tick" aria-hidden="true" />
                <Picture picture={one.picture} alt={one.alt} />
                <span className="pass-line">
                  {one.wall === null ? (
                    <Absent>no time</Absent>
                  ) : (
                    <span className="figure">{clockWithTenthsOf(one.wall)}</span>
                  )}
                  <span className="pencilled">
                    <Gauge confidence={one.confidence} />
                  </span>
                </span>
                {one.words}
                {mark === 'unsure' && <span className="unsure-words">not sure</span>}
              </button>
            </li>
          );
        })}
      </ol>
      <p className="note">
        Left and right go along. A comma or a tap marks one; again, and it is “not sure”; again, and it is free.
      </p>
    </>
  );
}

export const MaybeAct = ({ marks }: { readonly marks: Marks }) => (
  <Act
    words={SHEET_WORDS.questions.maybe}
    kind="box"
    run={marks.leaveOpen}
    consequence={`Number ${marks.at + 1} is left open.`}
  />
);

interface RestProps {
  readonly marks: Marks;
  /** Of the marked what they are said to be; of all others, that nobody can tell. */
  readonly say: (unsure: readonly number[]) => void;
}

/** One press leaves open whatever is not marked; it is not asked again. */
export function CantTellRest({ marks, say }: RestProps) {
  const { marked, unsure, free } = marks;
  const open = unsure.length + free.length;
  return (
    <Act
      words={SHEET_WORDS.questions.cantTellRest}
      kind="box"
      run={() => say([...unsure, ...free].sort((a, b) => a - b))}
      isOff={open === 0}
      why="All are marked."
      consequence={
        marked.length === 0
          ? 'Nothing changes, and it is not asked again.'
          : `Only of the ${marked.length} marked something is said; of ${open} it is not asked again.`
      }
    />
  );
}

/** The rider whom all the pictures are held against. */
export const OfRider = ({ rider, children }: { readonly rider: RiderLineView; readonly children?: ReactNode }) => (
  <section className="part of">
    <h2>
      <Tabs livery={rider.livery} size="large" />
      {rider.number ? <Plate number={rider.number} size="large" /> : <Absent>no number read</Absent>}
      <span className="aside code">{rider.code}</span>
    </h2>
    <p className="sub">{rider.livery.words}</p>
    <Picture picture={rider.face} alt={`${rider.livery.words}, ${rider.code}`} />
    {children}
  </section>
);

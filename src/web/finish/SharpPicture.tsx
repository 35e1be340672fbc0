/** A keeper as it is finished: the small picture at once, and over it one as sharp as the pane can show. */
import { useLayoutEffect, useRef, useState } from 'react';
import type { Finish } from '../../core/log/finishSaid.js';
import { triedAt } from './TwoSides.js';

export interface SharpPictureProps {
  readonly frame: string;
  readonly finish: Finish;
  readonly words: string;
}

/** In steps, so that a window drawn wider does not fetch at every pixel. */
const STEP_PX = 400;
const LEAST_PX = 800;
/** Of what the desk makes. */
const MOST_PX = 2400;

const edgeFor = (wide: number, high: number): number =>
  Math.min(
    MOST_PX,
    Math.max(LEAST_PX, Math.ceil((Math.max(wide, high) * window.devicePixelRatio) / STEP_PX) * STEP_PX),
  );

export function SharpPicture({ frame, finish, words }: SharpPictureProps) {
  const small = useRef<HTMLImageElement>(null);
  const [edgePx, setEdgePx] = useState<number | null>(null);
  useLayoutEffect(() => {
    const pane = small.current;
    if (pane === null) return;
    const watch = new ResizeObserver(() => setEdgePx(edgeFor(pane.clientWidth, pane.clientHeight)));
    watch.observe(pane);
    return () => watch.disconnect();
  }, []);
  return (
    <>
      <img ref={small} src={triedAt(frame, finish)} alt={words} draggable={false} />
      {edgePx !== null && <img className="sharp" src={triedAt(frame, finish, edgePx)} alt="" draggable={false} />}
    </>
  );
}

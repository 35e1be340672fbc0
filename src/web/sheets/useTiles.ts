/** The tiles of many riders: put in order behind the hand, and walked by arrows. */
import { startTransition, useEffect, useLayoutEffect, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import { useArrows } from '../keys/keyboard.js';
import type { Wish } from '../stores/findRiders.js';
import type { Shown } from './FoundTile.js';

/** What is asked, a moment later where many riders have to be put in order; `catchUp` does not wait. */
export function useUnhurried(asked: Wish, isMany: boolean) {
  const [late, setLate] = useState(asked);
  useEffect(() => startTransition(() => setLate(asked)), [asked]);
  const catchUp = () => {
    if (isMany && late !== asked) flushSync(() => setLate(asked));
  };
  return { wish: isMany ? late : asked, catchUp };
}

/** Arrows go from tile to tile as the eye sees them: along the row, and to the nearest one of the next row. */
export function useTileArrows(all: readonly Shown[], startsMarked: boolean, catchUp: () => void) {
  const [at, setAt] = useState(startsMarked ? 0 : -1);
  const boxes = useRef<(HTMLElement | null)[]>([]);
  boxes.current.length = all.length;
  // A hand may be quicker than the list: where the tile it stood on has gone, it stands on the one in its place.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only a changed list takes a tile away
  useLayoutEffect(() => {
    if (at < 0 || document.activeElement !== document.body) return;
    boxes.current[Math.min(at, boxes.current.length - 1)]?.focus({ preventScroll: true });
  }, [all]);
  const goTo = (place: number) => {
    const element = boxes.current[place];
    if (!element) return;
    setAt(place);
    element.focus();
  };
  const along = (step: 1 | -1) => {
    const here = boxes.current[at]?.getBoundingClientRect();
    if (!here) return goTo(0);
    const others = boxes.current.flatMap((element, place) => {
      const box = element?.getBoundingClientRect();
      const down = box ? (box.top - here.top) * step : 0;
      return box && down > 4 ? [{ place, far: down * 10 + Math.abs(box.left - here.left) }] : [];
    });
    const nearest = others.sort((a, b) => a.far - b.far)[0];
    if (nearest) goTo(nearest.place);
  };
  const across = (step: 1 | -1) => goTo(Math.min(boxes.current.length - 1, Math.max(0, at + step)));
  // A step goes along the riders that were asked for, never along those still shown from before.
  const afterAll =
    <A extends unknown[]>(go: (...args: A) => void) =>
    (...args: A) => {
      catchUp();
      go(...args);
    };
  useArrows({ across: afterAll(across), along: afterAll(along) });
  return { at, boxes, setAt };
}

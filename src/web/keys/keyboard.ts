/** One listener for the whole desk: letters act, arrows move, Space goes on, Ctrl/⌘+Z takes back and with Shift says again, Escape leaves what was opened, Enter never decides. */
import { useLayoutEffect, useRef } from 'react';
import { sayAgain, takeBack } from '../stores/said.js';

type Run = () => void;
export interface Arrows {
  /** By pass; with Shift by session. */
  readonly across?: (step: 1 | -1, isFar: boolean) => void;
  /** By rider; with Shift by group. */
  readonly along?: (step: 1 | -1, isFar: boolean) => void;
}

const letters = new Map<string, Run[]>();
const arrowStack: Arrows[] = [];
const onStack: Run[] = [];
const outStack: Run[] = [];

/** A box that was ticked keeps the focus, and takes no letters: the next key is meant for the sheet. */
const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  (target.matches('input:not([type=checkbox]), textarea, select') || target.isContentEditable);

/** A button that decides: its letter says it, a click says it, Enter and Space do not. */
const isDeciding = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.closest('[data-decides]') !== null;

/** Buttons that open or mark, and check boxes, keep their own Space. */
const hasOwnSpace = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  target.closest('button:not([data-decides]), summary, input, select, textarea') !== null;

const stepOf = (key: string): { axis: 'across' | 'along'; step: 1 | -1 } | null => {
  switch (key) {
    case 'ArrowRight':
      return { axis: 'across', step: 1 };
    case 'ArrowLeft':
      return { axis: 'across', step: -1 };
    case 'ArrowDown':
      return { axis: 'along', step: 1 };
    case 'ArrowUp':
      return { axis: 'along', step: -1 };
    default:
      return null;
  }
};

const last = <T>(stack: readonly T[]): T | undefined => stack[stack.length - 1];

function onKeyDown(event: KeyboardEvent): void {
  const isCommand = event.ctrlKey || event.metaKey;
  const letter = event.key.toLowerCase();
  if (isCommand && (letter === 'z' || letter === 'y') && !isTyping(event.target)) {
    event.preventDefault();
    void (letter === 'y' || event.shiftKey ? sayAgain() : takeBack());
    return;
  }
  if (isCommand || event.altKey || event.defaultPrevented) return;
  if (event.key === 'Enter' && isDeciding(event.target)) {
    event.preventDefault();
    return;
  }
  if (isTyping(event.target)) return;
  if (event.key === ' ' && !hasOwnSpace(event.target)) {
    event.preventDefault();
    if (!event.repeat) last(onStack)?.();
    return;
  }
  if (event.key === 'Escape') {
    last(outStack)?.();
    return;
  }
  const arrow = stepOf(event.key);
  const move = arrow && arrowStack.findLast((arrows) => arrows[arrow.axis])?.[arrow.axis];
  if (arrow && move) {
    event.preventDefault();
    move(arrow.step, event.shiftKey);
    return;
  }
  const run = event.key.length === 1 && !event.shiftKey ? last(letters.get(event.key.toLowerCase()) ?? []) : undefined;
  if (run && !event.repeat) {
    event.preventDefault();
    run();
  }
}

/** A deciding button that has the focus would be pressed by Space when the key is let go. */
const onKeyUp = (event: KeyboardEvent): void => {
  if (event.key === ' ' && isDeciding(event.target)) event.preventDefault();
};

export function listenToKeys(): void {
  document.addEventListener('keydown', onKeyDown);
  document.addEventListener('keyup', onKeyUp);
}

/**
 * Keys are registered as the sheet is put on the screen, not after it was painted: a hand is quicker than a busy machine.
 */

/** Puts an entry on top of a stack while the component is there. The entry must stay the same object. */
const useStacked = <T>(stack: T[], entry: T | null): void => {
  useLayoutEffect(() => {
    if (entry === null) return;
    stack.push(entry);
    return () => {
      stack.splice(stack.indexOf(entry), 1);
    };
  }, [stack, entry]);
};

/** The newest closure behind a function that never changes. */
const useLatest = <A extends unknown[]>(run: (...args: A) => void): ((...args: A) => void) => {
  const latest = useRef(run);
  latest.current = run;
  return useRef((...args: A) => latest.current(...args)).current;
};

export function useLetter(letter: string, run: Run, isOn = true): void {
  const stable = useLatest(run);
  useLayoutEffect(() => {
    if (!isOn) return;
    const runs = letters.get(letter) ?? [];
    letters.set(letter, [...runs, stable]);
    return () => {
      letters.set(
        letter,
        (letters.get(letter) ?? []).filter((one) => one !== stable),
      );
    };
  }, [letter, stable, isOn]);
}

export function useArrows(arrows: Arrows, isOn = true): void {
  const across = useLatest((step: 1 | -1, isFar: boolean) => arrows.across?.(step, isFar));
  const along = useLatest((step: 1 | -1, isFar: boolean) => arrows.along?.(step, isFar));
  const stable = useRef<Arrows>({ ...(arrows.across ? { across } : {}), ...(arrows.along ? { along } : {}) });
  useStacked(arrowStack, isOn ? stable.current : null);
}

export function useGoOn(run: Run | null): void {
  const stable = useLatest(() => run?.());
  useStacked(onStack, run ? stable : null);
}

/** Escape leaves what was opened over the sheet; it decides nothing. */
export function useEscape(run: Run | null): void {
  const stable = useLatest(() => run?.());
  useStacked(outStack, run ? stable : null);
}

/** How wide an element stands on the screen, followed as it changes. */
import { useCallback, useState } from 'react';

/** @param usual drawn for until the element stands. */
export function useWidth(
  usual: number,
): readonly [ref: (element: Element | null) => (() => void) | undefined, width: number] {
  const [width, setWidth] = useState(usual);
  const ref = useCallback((element: Element | null) => {
    if (element === null) return undefined;
    const observer = new ResizeObserver(([entry]) => {
      const next = Math.floor(entry?.contentRect.width ?? 0);
      if (next > 0) setWidth(next);
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [ref, width];
}

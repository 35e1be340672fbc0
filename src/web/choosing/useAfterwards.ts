/** What the rest of the page learns of a step a moment later, so that the step itself is on the screen first. */
import { useEffect, useRef } from 'react';

const AFTER_MS = 150;

export function useAfterwards(run: () => void, changed: unknown): void {
  const latest = useRef(run);
  latest.current = run;
  // biome-ignore lint/correctness/useExhaustiveDependencies: it runs again when this alone has changed
  useEffect(() => {
    const timer = setTimeout(() => latest.current(), AFTER_MS);
    return () => clearTimeout(timer);
  }, [changed]);
}

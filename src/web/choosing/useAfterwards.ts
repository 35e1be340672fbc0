/** What the rest of the page learns of a step a moment later, so that the step itself is on the screen first. */
import { useEffect, useRef } from 'react';

const AFTER_MS = 150;

export function useAfterwards(run: () => void, changed: readonly unknown[], afterMs = AFTER_MS): void {
  const latest = useRef(run);
  latest.current = run;
  useEffect(
    () => {
      const timer = setTimeout(() => latest.current(), afterMs);
      return () => clearTimeout(timer);
    },
    // biome-ignore lint/correctness/useExhaustiveDependencies: it runs again when one of these has changed
    changed,
  );
}

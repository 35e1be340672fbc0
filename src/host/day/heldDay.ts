/** The resident copy of what is known, fed by news; it arranges what it holds when asked. */
import type { KnownFile } from '../../core/arrange/types.js';
import type { FrameId } from '../../core/ids.js';
import { fold } from '../../core/log/index.js';
import type { FoldedLog, LogLine } from '../../core/log/types.js';
import type { FrameMeasurement } from '../../core/measure/types.js';
import type { WallMs } from '../../core/units.js';
import { type ArrangeSettings, type News, placeOf } from './arrangeMessages.js';
import type { Derive, Derived } from './derive.js';

export interface HeldDay {
  take(news: News): void;
  arrange(now: WallMs | null): { readonly derived: Derived; readonly tookMs: number };
}

export function heldDay(settings: ArrangeSettings, derive: Derive): HeldDay {
  const files = new Map<string, KnownFile>();
  const pixels = new Map<FrameId, FrameMeasurement>();
  const lines: LogLine[] = [];
  let log: FoldedLog | null = null;

  return {
    take(news) {
      for (const file of news.files ?? []) files.set(placeOf(file), file);
      for (const place of news.goneFiles ?? []) files.delete(place);
      for (const frame of news.pixels ?? []) pixels.set(frame.frameId, frame);
      lines.push(...(news.lines ?? []));
      if (news.lines !== undefined) log = null;
    },
    arrange(now) {
      const start = performance.now();
      log ??= fold(lines);
      const derived = derive({ files: [...files.values()], pixels, log, ...settings }, now);
      return { derived, tookMs: performance.now() - start };
    },
  };
}

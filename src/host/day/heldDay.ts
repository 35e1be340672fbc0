/** The resident copy of what is known, fed by news; it arranges what it holds when asked. */
import type { KnownFile } from '../../core/arrange/types.js';
import type { FrameId } from '../../core/ids.js';
import { type BikeJudgement, type Judged, judgedByBike } from '../../core/judge/index.js';
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
  const judgements = new Map<FrameId, readonly BikeJudgement[]>();
  const lines: LogLine[] = [];
  let log: FoldedLog | null = null;
  // New objects only when something in them changed: by these a derive knows what it may remember.
  let filesNow: readonly KnownFile[] | null = null;
  let pixelsNow: ReadonlyMap<FrameId, FrameMeasurement> | null = null;
  let judgedNow: ReadonlyMap<string, Judged> | null = null;

  return {
    take(news) {
      if (hasAny(news.files) || hasAny(news.goneFiles)) filesNow = null;
      if (hasAny(news.pixels)) pixelsNow = null;
      if (hasAny(news.pixels) || hasAny(news.judgements)) judgedNow = null;
      for (const file of news.files ?? []) files.set(placeOf(file), file);
      for (const place of news.goneFiles ?? []) files.delete(place);
      for (const frame of news.pixels ?? []) pixels.set(frame.frameId, frame);
      for (const bike of news.judgements ?? [])
        judgements.set(bike.frameId, [bike, ...(judgements.get(bike.frameId) ?? [])]);
      lines.push(...(news.lines ?? []));
      if (hasAny(news.lines)) log = null;
    },
    arrange(now) {
      const start = performance.now();
      log ??= fold(lines);
      filesNow ??= [...files.values()];
      pixelsNow ??= new Map(pixels);
      judgedNow ??= judgedByBike(judgements, pixelsNow);
      const known = { files: filesNow, pixels: pixelsNow, judged: judgedNow, log, ...settings };
      const derived = derive(known, now);
      return { derived, tookMs: performance.now() - start };
    },
  };
}

const hasAny = (list: readonly unknown[] | undefined): boolean => list !== undefined && list.length > 0;

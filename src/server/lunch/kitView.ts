/** What the kit did, with the frames that show it. */
import type { SpotId } from '../../core/ids.js';
import { shutterName } from '../../core/numeric/exposure.js';
import {
  bodyName,
  dustWords,
  type EvidenceFrame,
  type KitRecord,
  type KitRecords,
  kitRecords,
  type SharpAtShutter,
  type StockItem,
  stockLeft,
} from '../../core/review/kit/index.js';
import { unitIntervalOf, type WallMs } from '../../core/units.js';
import { sessionsToCome } from '../../host/kit/index.js';
import type { PictureView } from '../types.js';
import { aspectOf, type Known, metadataOf } from '../views/known.js';
import { judgementsOf } from '../views/passes.js';
import { capital } from '../views/words.js';
import type { DustBoard } from './dustBoard.js';
import type { DustSpotView, DustView, KitPartView, KitView, SharpView } from './types.js';

export interface KitKnown {
  readonly dust: DustBoard;
  /** The person's list; null at a desk without papers. */
  readonly kit: readonly StockItem[] | null;
  readonly now: WallMs;
}

export function kitView(known: Known, { dust, kit, now }: KitKnown): KitView {
  const { sharpness, howLow, others } = recordsOnce(known);
  const { arrangement, metadata, timetable } = known.state;
  const stock = { items: kit ?? [], sessionsToCome: sessionsToCome(timetable, now) };
  const left = partView(known, 'Cards and batteries', kit === null ? [] : stockLeft(arrangement, metadata, stock));
  return {
    asOf: known.state.asOf,
    dust: dust.ofBodies().map(({ body, found }) => ({ body: bodyName(body), found: dustFound(found) })),
    sharpness,
    howLow,
    others: [...others, left].filter(({ rows }) => rows.length > 0),
  };
}

function dustFound(found: ReturnType<DustBoard['ofBodies']>[number]['found']): DustView['found'] {
  switch (found.kind) {
    case 'looking':
      return found;
    case 'cannot-tell':
      return { kind: 'cannot-tell', sentence: found.reason };
    case 'looked':
      return {
        kind: 'looked',
        frames: found.frames,
        spots: found.spots.map(
          (spot): DustSpotView => ({
            sentence: capital(dustWords(spot)),
            x: spot.x,
            y: spot.y,
            acrossPx: spot.acrossPx,
            frames: spot.frames,
          }),
        ),
      };
  }
}

type Records = Pick<KitView, 'sharpness' | 'howLow' | 'others'>;
const built = new WeakMap<Known, Records>();

/** Every bike of the day is judged for them: once per state. */
function recordsOnce(known: Known): Records {
  const before = built.get(known);
  if (before) return before;
  const { arrangement, pixels, metadata } = known.state;
  const spotName = (spot: SpotId) => numberedSpot(known, spot);
  const { sharpness, howLow, ...others } = kitRecords({
    arrangement,
    judgements: judgementsOf(known),
    pixels,
    metadata,
    spotName,
  });
  const records = {
    sharpness: sharpness.map((one) => sharpView(known, one)),
    howLow: partView(known, 'How low you can go', howLow),
    others: TITLES.map(([key, title]) => partView(known, title, others[key])),
  };
  built.set(known, records);
  return records;
}

type OtherKey = Exclude<keyof KitRecords, 'sharpness' | 'howLow'>;
/** A kind of record without a title here does not compile. */
const TITLE_OF: Readonly<Record<OtherKey, string>> = {
  clipped: 'Clipped highlights',
  blocked: 'Blocked shadows',
  focus: 'Where missed focus falls',
  shimmer: 'Heat shimmer by the hour',
  clocks: 'Clocks',
};
const TITLES = Object.entries(TITLE_OF) as readonly (readonly [OtherKey, string])[];

const partView = (known: Known, title: string, rows: readonly KitRecord[]): KitPartView => ({
  title,
  rows: rows.map(({ sentence, evidence }) => ({
    sentence: capital(sentence),
    evidence: evidence.map((frame) => pictureOf(known, frame)),
  })),
});

const pictureOf = (known: Known, { frameId, look }: EvidenceFrame): PictureView => ({
  frameId,
  box: look,
  aspect: aspectOf(metadataOf(known, frameId)),
});

function numberedSpot({ spotById }: Known, id: SpotId): string {
  const spot = spotById.get(id);
  return spot === undefined ? id : `${spot.number} ${spot.name}`;
}

function sharpView(known: Known, one: SharpAtShutter): SharpView {
  const where = [one.lens, one.spot && numberedSpot(known, one.spot)].filter((part) => part !== null);
  const group = known.groupByKey.get(one.group ?? '') ?? null;
  return {
    shutter: shutterName(one.shutterS),
    where: where.join(', '),
    group,
    sharp: one.sharp,
    frames: one.frames,
    share: unitIntervalOf(one.share.share),
    from: unitIntervalOf(one.share.from),
    to: unitIntervalOf(one.share.to),
    evidence: one.evidence.map((frame) => pictureOf(known, frame)),
  };
}

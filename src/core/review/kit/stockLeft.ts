/**
 * Cards and batteries for what is still to come: rules PL832–PL834. Used is what the day's own files say; what there is, the person's kit
 * list. Batteries by the count of CIPA DC-002, which is on the safe side for bursts. A card that is formatted and used again holds more
 * than its size by the evening; nobody tells the program, so it is not counted.
 */
import type { Arrangement, Exposure } from '../../arrange/types.js';
import type { FileMetadata } from '../../measure/types.js';
import { bodyName } from './dustWords.js';
import { groupedBy } from './judgedBikes.js';
import type { EvidenceFrame, Stock, StockItem, StockLeft } from './types.js';

const BYTES_A_GB = 1e9;

export function stockLeft(
  arrangement: Arrangement,
  metadata: ReadonlyMap<string, FileMetadata>,
  stock: Stock,
): readonly StockLeft[] {
  if (arrangement.exposures.length === 0) return [];
  const worked = arrangement.sessions.filter(({ frames }) => frames.length > 0).length;
  const toCome = (frames: number): number | null =>
    stock.sessionsToCome === null || worked === 0 ? null : Math.ceil((frames / worked) * stock.sessionsToCome);
  return [cardsLeft(arrangement.exposures, metadata, stock, toCome), ...batteriesLeft(arrangement, stock, toCome)];
}

type ToCome = (frames: number) => number | null;

function cardsLeft(
  exposures: readonly Exposure[],
  metadata: ReadonlyMap<string, FileMetadata>,
  { items }: Stock,
  toCome: ToCome,
): StockLeft {
  const frames = exposures.length;
  // Both slots of a body and RAW beside JPEG each take their room.
  const bytes = exposures
    .flatMap(({ files }) => files)
    .reduce((sum, file) => sum + (metadata.get(file)?.bytes ?? 0), 0);
  const fills = groupedBy(exposures, ({ fill }) => fill);
  const cards = items.filter(({ kind }) => kind === 'card');
  const capacity = cards.reduce((sum, { capacityGb, count }) => sum + (capacityGb ?? 0) * BYTES_A_GB * count, 0);
  const isKnown = capacity > 0 && bytes > 0;
  const left = isKnown ? Math.max(0, Math.floor(((capacity - bytes) * frames) / bytes)) : null;
  const room = isKnown
    ? `Your cards hold ${gb(capacity)} GB: ${frameCount(left!)} more, with nothing formatted.`
    : 'How much your cards hold is not written down in the kit list.';
  const coming = toCome(frames);
  const used = `${fills.size} ${fills.size === 1 ? 'card' : 'cards'} with ${frameCount(frames)}, ${bytes < BYTES_A_GB / 10 ? `${Math.round(bytes / 1e6)} MB` : `${gb(bytes)} GB`}`;
  return {
    kind: 'measurement',
    of: 'cards',
    framesLeft: left,
    framesToCome: coming,
    evidence: [...fills.values()].map((ones) => lastOf(ones)),
    sentence: `${used}. ${room}${comingWords(coming, left)}`,
  };
}

function batteriesLeft({ exposures }: Arrangement, { items }: Stock, toCome: ToCome): readonly StockLeft[] {
  const bodies = [...groupedBy(exposures, ({ body }) => body).values()];
  const spares = items.filter(({ kind }) => kind === 'battery').reduce((sum, { count }) => sum + count, 0);
  return bodies.map((frames): StockLeft => {
    const { body } = frames[0]!;
    const perCharge = itemOf(body, items)?.framesACharge;
    const coming = toCome(frames.length);
    const took = `${bodyName(body)} took ${frameCount(frames.length)}`;
    const base = { kind: 'measurement' as const, of: body, framesToCome: coming, evidence: [lastOf(frames)] };
    if (perCharge === undefined || spares === 0) {
      const lacks = perCharge === undefined ? 'Its frames a charge (CIPA)' : 'How many batteries there are';
      return { ...base, framesLeft: null, sentence: `${took}. ${lacks} is not written down in the kit list.` };
    }
    // All batteries fit every body as far as the list tells; each body's share of them follows its share of the frames.
    const share = (spares * frames.length) / exposures.length;
    const left = Math.max(0, Math.floor(share * perCharge - frames.length));
    const charges = (frames.length / perCharge).toFixed(1);
    return {
      ...base,
      framesLeft: left,
      sentence: `${took}: ${charges} charges of ${perCharge} (CIPA). With its share of ${spares} batteries, about ${frameCount(left)} more.${comingWords(coming, left)}`,
    };
  });
}

/** By serial number, else by the model's name where one alone has it. */
function itemOf(body: string, items: readonly StockItem[]): StockItem | null {
  const [, model = '', serial = ''] = body.split('|');
  const bodies = items.filter(({ kind }) => kind === 'body');
  const bySerial = bodies.find((item) => item.serial !== undefined && item.serial === serial);
  if (bySerial) return bySerial;
  const byName = bodies.filter(({ name }) => model !== '' && name.toLowerCase().includes(model.toLowerCase()));
  return byName.length === 1 ? byName[0]! : null;
}

function comingWords(coming: number | null, left: number | null): string {
  if (coming === null || coming === 0) return '';
  const so = left === null ? '' : coming > left ? `: ${frameCount(coming - left)} short` : ', which fit';
  return ` At this day’s pace ${frameCount(coming)} are to come${so}.`;
}

const lastOf = (frames: readonly Exposure[]): EvidenceFrame => ({ frameId: frames.at(-1)!.frameId, look: null });
const gb = (bytes: number): string => (bytes / BYTES_A_GB).toFixed(bytes < 10 * BYTES_A_GB ? 1 : 0);
const frameCount = (count: number): string =>
  `${String(count).replace(/\B(?=(\d{3})+(?!\d))/g, ',')} ${count === 1 ? 'frame' : 'frames'}`;

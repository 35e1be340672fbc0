/**
 * How many race numbers are read on `race-photos/numbers.tsv`, by eye: `single` one bike with a legible number, `multi`
 * any of the listed numbers is right, `opt` partly hidden or tiny: right if read, not counted if unread. Any other picture
 * has none. A picture is read by the surest whole number on any of its bikes, from the working confidence on.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { FrameMeasured, NumberReading } from '../../src/core/measure/index.js';
import { LEAST_SHOWN } from '../../src/core/measure/numbers/index.js';
import type { Vision } from '../../src/host/vision/index.js';
import { picturesIn } from './labelled.js';
import { readLabels } from './labels.js';
import { measurePicture } from './measurePicture.js';
import type { Part } from './part.js';

const FILE = 'numbers.tsv';
const KINDS = ['single', 'multi', 'opt', 'none'] as const;
type Kind = (typeof KINDS)[number];
type Verdict = 'right' | 'wrong' | 'unread';

interface Judged {
  readonly file: string;
  readonly kind: Kind;
  readonly numbers: readonly string[];
  readonly reading: NumberReading | null;
  readonly verdict: Verdict;
}

/** The surest whole number of the picture, shown or not. */
function surestOf({ subjects }: FrameMeasured): NumberReading | null {
  const readings = subjects.flatMap(({ numbers }) => numbers ?? []).filter(({ isWhole }) => isWhole);
  return readings.sort((a, b) => b.confidence - a.confidence)[0] ?? null;
}

export function judgeNumber(
  reading: Pick<NumberReading, 'text' | 'confidence'> | null,
  numbers: readonly string[],
): Verdict {
  if (reading === null || reading.confidence < LEAST_SHOWN) return 'unread';
  return numbers.includes(reading.text) ? 'right' : 'wrong';
}

export const numbersAccuracy: Part = async (vision, dataDir) => {
  const folder = join(dataDir, 'race-photos');
  if (!existsSync(join(folder, FILE))) return null;
  const labels = readLabels(folder, FILE)!;
  const labelOf = new Map(labels.rows.map((row) => [row.file, row]));
  const judged: Judged[] = [];
  const times: number[] = [];
  for (const file of picturesIn(folder)) {
    const { watched, spentMs } = watchReading(vision);
    const frame = await measurePicture(watched, join(folder, file));
    if (frame.kind !== 'measured') continue;
    const label = labelOf.get(file);
    const kind = KINDS.find((name) => name === label?.kind) ?? 'none';
    const numbers = (label?.numbers ?? '').split('|').filter((text) => text !== '');
    const reading = surestOf(frame);
    judged.push({ file, kind, numbers, reading, verdict: judgeNumber(reading, numbers) });
    if (spentMs() > 0) times.push(spentMs());
  }
  return judged.length === 0 ? null : report(judged, times, labels.troubles);
};

/** The same vision with a clock at its reader: processor time, which other programs on the machine leave nearly alone. */
function watchReading(vision: Vision): { readonly watched: Vision; readonly spentMs: () => number } {
  let spent = 0;
  const readNumbers: Vision['readNumbers'] = async (image, rect, parts) => {
    const before = process.cpuUsage();
    const readings = await vision.readNumbers(image, rect, parts);
    const { user, system } = process.cpuUsage(before);
    spent += (user + system) / 1000;
    return readings;
  };
  return { watched: { ...vision, readNumbers }, spentMs: () => spent };
}

function report(judged: readonly Judged[], times: readonly number[], troubles: readonly string[]) {
  const count = (kind: Kind, verdict?: Verdict) =>
    judged.filter((one) => one.kind === kind && (verdict === undefined || one.verdict === verdict)).length;
  const told = (kind: Kind) =>
    `${kind} ${count(kind, 'right')} right, ${count(kind, 'wrong')} wrong, ${count(kind, 'unread')} unread`;
  const share = (kind: Kind) => ({
    value: count(kind, 'right') / count(kind),
    unit: `of ${count(kind)} photos`,
    better: 'higher' as const,
    note: told(kind),
  });
  const wrong = judged.filter(({ verdict }) => verdict === 'wrong');
  const missed = judged.filter(({ kind, verdict }) => verdict === 'unread' && (kind === 'single' || kind === 'multi'));
  return {
    rows: [
      `race numbers from confidence ${LEAST_SHOWN} on: ${KINDS.map(told).join('; ')}`,
      ...[...wrong, ...missed].map(rowOf),
      ...troubles.map((line) => `  ${line}`),
    ],
    figures: {
      ...(count('single') > 0 && { 'photos.numbersSingleShare': share('single') }),
      ...(count('multi') > 0 && { 'photos.numbersMultiShare': share('multi') }),
      'photos.numbersWrong': {
        value: wrong.length,
        unit: `of ${judged.length} photos`,
        better: 'lower' as const,
        note: `single ${count('single', 'wrong')}, multi ${count('multi', 'wrong')}, partly hidden ${count('opt', 'wrong')}, none to read ${count('none', 'wrong')}`,
      },
      ...(times.length > 0 && { 'numbers.ms': millisecondsOf(times) }),
    },
  };
}

const rowOf = ({ file, numbers, reading, verdict }: Judged): string =>
  `  ${verdict}: ${file} ${numbers.join('|') || 'none'} → ${reading ? `${reading.text} at ${reading.confidence.toFixed(2)}` : 'nothing'}`;

function millisecondsOf(times: readonly number[]) {
  const sorted = [...times].sort((a, b) => a - b);
  const mean = sorted.reduce((sum, ms) => sum + ms, 0) / sorted.length;
  return {
    value: sorted[sorted.length >> 1]!,
    unit: 'ms a frame, median',
    better: 'lower' as const,
    note: `processor time of ${sorted.length} photos with a bike to read, one thread; mean ${mean.toFixed(0)}`,
  };
}

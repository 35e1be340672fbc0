/** What worked on A4: sentences over two columns of rates, each a dot with its range. */

import { shutterName } from '../../core/numeric/exposure.js';
import { INNER_PX } from '../../core/plan/sheet/paper.js';
import { clockOf } from '../../core/plan/sheet/words.js';
import {
  countedOf,
  type Debrief,
  gaveWords,
  type HitRate,
  howThingsStand,
  type SpotYield,
  WENT,
} from '../../core/review/debrief/index.js';
import { INK_2, type Pen, penOn, type TextLook } from '../plan/paper/pen.js';
import type { DebriefOfDay } from './debriefOfDay.js';
import { titleOf } from './meetingWords.js';
import { type Block, rangeBlock, wordsBlock } from './paperBlocks.js';
import { COLUMN_PX, drawInColumns } from './paperColumns.js';

export interface DebriefPaper {
  readonly pdf: Uint8Array;
  readonly pages: number;
  /** Letters that the fonts lack; a question mark was printed in their place. */
  readonly missing: readonly string[];
}

const HEADLINE = { face: 'figures', size: 22 } as const;
const LEAD = { size: 12.5, ink: INK_2 } as const;

export async function debriefPaper(found: DebriefOfDay, madeAt: Date): Promise<DebriefPaper> {
  const { meeting, debrief } = found;
  const pen = penOn({ title: `What worked, ${meeting.name}`, madeAt });
  const top = drawHead(pen, found);
  const rest = debrief.all === null ? [] : blocksOf(pen, found);
  drawInColumns(pen, rest, top, () => drawNextHead(pen, found));
  const { pages, missing } = pen;
  return { pdf: await pen.end(), pages, missing: [...missing] };
}

/** Answers where the head ends. */
function drawHead(pen: Pen, { meeting, debrief }: DebriefOfDay): number {
  pen.text('What worked', 0, 17, { face: 'strong', size: 17 });
  pen.text(titleOf(meeting), INNER_PX, 17, { size: 13, align: 'right', within: INNER_PX - 130 });
  rule(pen, 25, 3);
  const lead =
    debrief.all === null
      ? countedOf(debrief)
      : `${countedOf(debrief)} A dot with its range, which holds the truth 95 times in 100; an open dot stands on few passes.`;
  const end = drawLines(pen, howThingsStand(debrief), 25, HEADLINE, 26);
  return drawLines(pen, lead, end + 4, LEAD, 16) + 12;
}

/** On every page but the first; sheets get parted. Answers where it ends. */
function drawNextHead(pen: Pen, { meeting }: DebriefOfDay): number {
  pen.newPage();
  pen.text(`What worked, ${titleOf(meeting)}`, 0, 12, { size: 11.5, within: INNER_PX - 80 });
  pen.text(`page ${pen.pages}`, INNER_PX, 12, { size: 11.5, align: 'right' });
  return 22;
}

/** Answers where they end. */
function drawLines(pen: Pen, words: string, top: number, look: TextLook, linePx: number): number {
  const lines = pen.wrap(words, INNER_PX, look);
  for (const [i, line] of lines.entries()) pen.text(line, 0, top + (i + 1) * linePx, look);
  return top + lines.length * linePx;
}

const rule = (pen: Pen, y: number, width: number): void =>
  pen.line(
    [
      [0, y],
      [INNER_PX, y],
    ],
    { width },
  );

function blocksOf(pen: Pen, { debrief, spotNames }: DebriefOfDay): readonly Block[] {
  const spotName = (spot: string): string => spotNames.get(spot as never) ?? spot;
  const sentences = (title: string, of: readonly { readonly sentence: string }[]) =>
    wordsBlock(
      pen,
      COLUMN_PX,
      title,
      of.map(({ sentence }) => sentence),
    );
  const rates = (title: string, of: readonly Labelled[]) => rangeBlock(pen, COLUMN_PX, title, of.map(rowOf));
  return [
    sentences('What the day shows', debrief.evidence),
    ...shuttersAtSpots(debrief).map(([spot, own]) =>
      rates(
        `By shutter, ${spotName(spot)}`,
        own.map((rate) => [shutterName(rate.of.shutterS!), rate]),
      ),
    ),
    rates(
      'By spot',
      debrief.bySpot.map((rate) => [spotName(rate.of.spot!), rate]),
    ),
    rates(
      'By group',
      debrief.byGroup.map((rate) => [rate.of.group!, rate]),
    ),
    rates(
      'By focal length',
      debrief.byFocalLength.map((rate) => [`about ${rate.of.focalMm} mm`, rate]),
    ),
    rates(
      'By the hour',
      debrief.byHour.map((rate) => [clockOf(rate.hour), rate]),
    ),
    yieldBlock(pen, debrief, spotName),
    wordsBlock(
      pen,
      COLUMN_PX,
      'Less than a minute there: too short to say',
      debrief.spots.flatMap((spot) =>
        spot.keepersAMinute === null ? [`${spotName(spot.spot)}: ${gaveWords(spot)}`] : [],
      ),
    ),
    sentences('Heat shimmer', debrief.shimmer),
    sentences('Focus', debrief.focus),
    wordsBlock(pen, COLUMN_PX, 'The plan and the day', plannedLines(debrief, spotName)),
  ].filter((block) => block !== null);
}

type Labelled = readonly [label: string, rate: Omit<HitRate, 'of'>];

const rowOf = ([label, { share, hits, bikes, isFew }]: Labelled) => ({
  label,
  at: share.share,
  from: share.from,
  to: share.to,
  isFew,
  count: `${hits} of ${bikes}${isFew ? ', few' : ''}`,
});

function shuttersAtSpots({ byShutterAtSpot }: Debrief): readonly (readonly [string, readonly HitRate[]])[] {
  const bySpot = new Map<string, HitRate[]>();
  for (const rate of byShutterAtSpot) bySpot.set(rate.of.spot!, [...(bySpot.get(rate.of.spot!) ?? []), rate]);
  return [...bySpot];
}

const WHOSE_MINUTES: Readonly<Record<SpotYield['minutesFrom'], string>> = {
  said: 'as said',
  frames: 'by frames, perhaps more',
  both: 'partly as said, partly by frames',
};

function yieldBlock(pen: Pen, { spots }: Debrief, spotName: (spot: string) => string): Block | null {
  const told = spots.flatMap((spot) => (spot.keepersAMinute === null ? [] : [{ ...spot, rate: spot.keepersAMinute }]));
  const most = Math.max(...told.map(({ rate }) => rate.to));
  return rangeBlock(
    pen,
    COLUMN_PX,
    'Keepers a minute',
    told.map((spot) => ({
      label: spotName(spot.spot),
      at: spot.rate.rate / most,
      from: spot.rate.from / most,
      to: spot.rate.to / most,
      isFew: false,
      count: `${spot.rate.rate.toFixed(1)} (${spot.rate.from.toFixed(1)}–${spot.rate.to.toFixed(1)})`,
      note: `${gaveWords(spot)}, ${Math.round(spot.minutes)} min ${WHOSE_MINUTES[spot.minutesFrom]}`,
    })),
    ['0', (most / 2).toFixed(1), most.toFixed(1)],
  );
}

function plannedLines({ asPlanned }: Debrief, spotName: (spot: string) => string): readonly string[] {
  if (asPlanned === null) return ['No plan was taken.'];
  return asPlanned.map(({ session, planned, stood, is, hits }) => {
    const names = (spots: readonly string[]): string => spots.map(spotName).join(' and ');
    const where =
      is === 'elsewhere'
        ? `${names(planned)} planned, ${names(stood)} stood`
        : names(stood.length > 0 ? stood : planned);
    return `${session}: ${where}, ${WENT[is]}${stood.length === 0 ? '' : `; ${hits} sharp and whole`}`;
  });
}

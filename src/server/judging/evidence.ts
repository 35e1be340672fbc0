/** Judgements with where on the crop they can be seen, and a sentence each. */
import { type Judged, orderByWorth } from '../../core/judge/index.js';
import type { Box } from '../../core/measure/types.js';
import { counted } from '../views/words.js';
import type { EvidenceView } from './types.js';

export interface Places {
  /** Of the crop in the whole picture. */
  readonly whole: Box;
  /** Of the bike in the whole picture. */
  readonly box: Box;
}

/** Smaller shares of burnt pixels are glints. */
const BURNT_SAID_FROM = 0.01;

/** @param beside judged frames of the same pass */
export function evidenceOf(judged: Judged, beside: readonly Judged[], { whole, box }: Places): readonly EvidenceView[] {
  const on = (place: Box): Box => [
    (place[0] - whole[0]) / whole[2],
    (place[1] - whole[1]) / whole[3],
    place[2] / whole[2],
    place[3] / whole[3],
  ];
  const { focus, edge, inFront, bright, limb, head } = judged;
  const areas = focus.kind === 'focus' ? focus.areas : [];
  const compared = comparedWords(judged, beside);
  return [
    ...areas.map(
      (area): EvidenceView => ({ what: 'looked at', sentence: areaWords(area.what, area.edgePx), box: on(area.box) }),
    ),
    ...(compared === null ? [] : [{ what: 'edges', sentence: compared, box: on(box) } as const]),
    ...(edge.kind === 'cut'
      ? [{ what: 'cut', sentence: `The ${edge.what} is cut by the picture’s edge.`, box: on(edge.where) } as const]
      : []),
    ...inFront.map(({ what, share, where }): EvidenceView => {
      const sentence = `A ${what} stands across ${Math.round(100 * share)} % of it.`;
      return { what: 'in front', sentence, box: on(where) };
    }),
    ...(bright.share >= BURNT_SAID_FROM && bright.where
      ? [
          {
            what: 'bright',
            sentence: `${percent(bright.share)} % of it is burnt, most of it here.`,
            box: on(bright.where),
          } as const,
        ]
      : []),
    ...(head.kind === 'towards'
      ? [
          {
            what: 'rider',
            sentence: 'The visor lies across the helmet: the face is to the camera.',
            box: on(head.where),
          } as const,
        ]
      : []),
    ...(limb.kind === 'out'
      ? [
          {
            what: 'rider',
            sentence: 'A knee or an elbow sticks out here, on the inside of the turn.',
            box: on(limb.where),
          } as const,
        ]
      : []),
  ];
}

const percent = (share: number): string => (100 * share).toFixed(share < 0.1 ? 1 : 0);

const areaWords = (what: string, edgePx: number | undefined): string =>
  edgePx === undefined
    ? `The ${what}: looked at three times as much as the rest.`
    : `The ${what}: its clearest edges are ${edgePx.toFixed(1)} px wide.`;

/** Sharpness is told beside other frames of the pass alone; null where there is none, or none that can be compared. */
function comparedWords(judged: Judged, beside: readonly Judged[]): string | null {
  if (judged.focus.kind !== 'focus') return `Too little can be seen to judge how sharp it is (${judged.focus.reason}).`;
  const others = beside.filter(({ focus }) => focus.kind === 'focus');
  if (others.length === 0) return null;
  const mine = orderByWorth([judged, ...others]).find(({ index }) => index === 0);
  const among = `the ${counted(others.length + 1, 'judged frame')} of this pass`;
  switch (mine?.blur?.kind) {
    case 'moved':
      return `Drawn out ${ALONG[mine.blur.alongDeg]} beside the sharpest of ${among}.`;
    case 'missed-focus':
      return `Softer all round than the sharpest of ${among}: the focus missed.`;
    default:
      return `As sharp as any of ${among}.`;
  }
}

const ALONG = {
  0: 'from side to side',
  45: 'along one diagonal',
  90: 'up and down',
  135: 'along one diagonal',
} as const;

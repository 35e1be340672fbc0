/** Questions about passes: whose is this one, and is one of a rider's somebody else's. */
import type { Pass, Rider } from '../../core/arrange/types.js';
import type { Screen } from '../../core/ask/index.js';
import type { RiderKey } from '../../core/ids.js';
import type { BikePoint } from '../../core/log/types.js';
import { unitIntervalOf } from '../../core/units.js';
import type { QuestionView } from '../types.js';
import { type Known, pointOf, whereOfPass } from './known.js';
import { likenessesOf } from './likeness.js';
import { pictureOf, riderLineOf } from './riderLine.js';
import { middleOf } from './unplaced.js';
import { clockWithSecondsOf } from './wallTime.js';

/** What a question costs before its pictures are worked out; the first screen shows no more of it. */
export interface QuestionLine {
  readonly id: string;
  readonly sentence: string;
  readonly worth: number;
  readonly view: () => QuestionView | null;
}

const MOST_LIKELY = 8;
const MOST_PICTURES = 4;

type Head = Pick<QuestionView, 'id' | 'sentence' | 'worth'>;
type WhosePass = Extract<Screen, { kind: 'whose-pass' }>;
type OddOneOut = Extract<Screen, { kind: 'odd-one-out' }>;

export function whosePassLine(known: Known, { id, worth, pass: index, riders }: WhosePass): readonly QuestionLine[] {
  const pass = known.state.arrangement.passes[index];
  if (pass === undefined) return [];
  const sentence = `Whose pass is this, ${clockWithSecondsOf(pass.start)}, ${whereOfPass(known, pass)}?`;
  return [{ id, sentence, worth, view: () => whosePass(known, pass, riders, { id, sentence, worth }) }];
}

/** Those whom the core asks about stand before others that look alike: what was shown is not asked again. */
function whosePass(known: Known, pass: Pass, asked: readonly RiderKey[], head: Head): QuestionView | null {
  const bike = middleOf(pass);
  const ofPoint = bike && pointOf(known, bike);
  if (!bike || !ofPoint) return null;
  const isAsked = ({ rider }: { rider: Rider }): number => Number(asked.includes(rider.key));
  const shown = [...likenessesOf(known, bike, pass)]
    .sort((a, b) => isAsked(b) - isAsked(a))
    .slice(0, MOST_LIKELY)
    .flatMap(({ rider, ...likeness }) => {
      const point = pointOf(known, rider.face);
      const group = known.groupByKey.get(rider.group ?? '') ?? null;
      return point ? [{ rider: riderLineOf(known, rider), group, point, ...likeness }] : [];
    });
  if (shown.length === 0) return null;
  const pictures = pass.bikes.slice(0, MOST_PICTURES).map((one) => pictureOf(known, one));
  return { kind: 'whose-pass', ...head, pictures, ofPoint, why: pass.why ?? null, shown };
}

export function oddOneOutLine(known: Known, screen: OddOneOut): readonly QuestionLine[] {
  const rider = known.riderByKey.get(screen.rider);
  if (rider === undefined) return [];
  const { id, worth } = screen;
  const sentence = `Is one of these not ${rider.livery}, ${rider.code}?`;
  return [{ id, sentence, worth, view: () => oddOneOut(known, rider, screen, { id, sentence, worth }) }];
}

function oddOneOut(known: Known, rider: Rider, { passes, rest }: OddOneOut, head: Head): QuestionView | null {
  const passAt = (index: number): Pass | readonly [] => known.state.arrangement.passes[index] ?? [];
  const pointsOf = (some: readonly Pass[]): readonly BikePoint[] =>
    some.flatMap((pass) => {
      const bike = middleOf(pass);
      return (bike && pointOf(known, bike)) ?? [];
    });
  const [ofPoint, ...others] = pointsOf(rest.flatMap(passAt));
  if (!ofPoint) return null;
  const shown = passes.flatMap(passAt).flatMap((pass) => {
    const bike = middleOf(pass);
    const point = bike && pointOf(known, bike);
    return bike && point
      ? [
          {
            picture: pictureOf(known, bike),
            point,
            wall: pass.start,
            where: whereOfPass(known, pass),
            confidence: unitIntervalOf(pass.confidence ?? 1),
            why: pass.why ?? null,
          },
        ]
      : [];
  });
  return { kind: 'odd-one-out', ...head, of: riderLineOf(known, rider), ofPoint, shown, others };
}

/** Questions about passes: whose is this one, and is one of a rider's somebody else's. */
import type { Pass, Rider } from '../../core/arrange/types.js';
import type { BikePoint } from '../../core/log/types.js';
import { unitIntervalOf } from '../../core/units.js';
import type { QuestionView } from '../types.js';
import { type Known, passesOf, placedRiders, pointOf, whereOfPass } from './known.js';
import { likenessesOf } from './likeness.js';
import { pictureOf, riderLineOf } from './riderLine.js';
import { middleOf, unplacedPasses } from './unplaced.js';
import { clockWithSecondsOf } from './wallTime.js';

/** What a question costs before its pictures are worked out; the first screen shows no more of it. */
export interface QuestionLine {
  readonly id: string;
  readonly sentence: string;
  readonly worth: number;
  readonly view: () => QuestionView | null;
}

/** More at a time than anybody answers in one sitting; the rest stand on the sheet of all riders. */
const MOST_WHOSE = 24;
const MOST_LIKELY = 8;
const MOST_PICTURES = 4;

const fileOf = (known: Known, pass: Pass): readonly string[] =>
  pass.bikes.flatMap((bike) => known.exposureById.get(bike.frameId)?.mainFile ?? []);

/** Passes of which a line-up in force has asked already, by the file of the one it was about. */
const askedOf = (known: Known): ReadonlyMap<string, ReadonlySet<string>> => {
  const asked = new Map<string, Set<string>>();
  for (const { decision } of known.state.log.inForce)
    if (decision.kind === 'line-up') {
      const shown = asked.get(decision.of.file) ?? new Set();
      for (const point of decision.shown) shown.add(point.file);
      asked.set(decision.of.file, shown);
    }
  return asked;
};

/** Worth: its frames, which stand in nobody's set till then. */
export function whosePassLines(known: Known): readonly QuestionLine[] {
  const asked = askedOf(known);
  return unplacedPasses(known)
    .filter((pass) => !fileOf(known, pass).some((file) => asked.has(file) || known.saidFiles.has(file)))
    .sort((a, b) => b.bikes.length - a.bikes.length || a.start - b.start)
    .slice(0, MOST_WHOSE)
    .map((pass) => {
      const id = `whose-pass ${pass.bikes[0]?.frameId}:${pass.bikes[0]?.subject}`;
      const sentence = `Whose pass is this, ${clockWithSecondsOf(pass.start)}, ${whereOfPass(known, pass)}?`;
      const worth = pass.bikes.length;
      return { id, sentence, worth, view: () => whosePass(known, pass, { id, sentence, worth }) };
    });
}

type Head = Pick<QuestionView, 'id' | 'sentence' | 'worth'>;

function whosePass(known: Known, pass: Pass, head: Head): QuestionView | null {
  const bike = middleOf(pass);
  const ofPoint = bike && pointOf(known, bike);
  if (!bike || !ofPoint) return null;
  const shown = likenessesOf(known, bike, pass)
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

/** From so many passes on a set can hide somebody else's. */
const LEAST_PASSES = 4;
const MOST_IN_SET = 12;
/** Frames that are expected to lie wrong, from which on a look is worth its while. */
const LEAST_WRONG_FRAMES = 1;
const SURE_FROM = 0.98;

/** Worth: frames that are expected to lie wrong in the set. */
export function oddOneOutLines(known: Known): readonly QuestionLine[] {
  const asked = askedOf(known);
  return placedRiders(known).flatMap((rider): readonly QuestionLine[] => {
    const passes = passesOf(known, rider);
    const own = passes.flatMap((pass) => fileOf(known, pass));
    const seen = new Set(own.flatMap((file) => [...(asked.get(file) ?? [])]));
    const doubtful = passes
      .filter((pass) => (pass.confidence ?? 1) < SURE_FROM && !fileOf(known, pass).some((file) => seen.has(file)))
      .sort((a, b) => (a.confidence ?? 1) - (b.confidence ?? 1))
      .slice(0, MOST_IN_SET);
    const worth = doubtful.reduce((sum, pass) => sum + (1 - (pass.confidence ?? 1)) * pass.bikes.length, 0);
    if (passes.length < LEAST_PASSES || doubtful.length === passes.length || worth < LEAST_WRONG_FRAMES) return [];
    const head = {
      id: `odd-one-out ${rider.face.frameId}:${rider.face.subject}`,
      sentence: `Is one of these not ${rider.livery}, ${rider.code}?`,
      worth,
    };
    return [{ ...head, view: () => oddOneOut(known, rider, passes, doubtful, head) }];
  });
}

function oddOneOut(
  known: Known,
  rider: Rider,
  passes: readonly Pass[],
  doubtful: readonly Pass[],
  head: Head,
): QuestionView | null {
  const surest = [...passes].sort((a, b) => (b.confidence ?? 1) - (a.confidence ?? 1));
  const rest = surest.filter((pass) => !doubtful.includes(pass));
  const pointsOf = (some: readonly Pass[]): readonly BikePoint[] =>
    some.flatMap((pass) => {
      const bike = middleOf(pass);
      return (bike && pointOf(known, bike)) ?? [];
    });
  const [ofPoint, ...others] = pointsOf(rest);
  if (!ofPoint) return null;
  const shown = doubtful.flatMap((pass) => {
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

/** Contrary words about two riders, with the two pictures they are about. */
import type { BikeRef, Question } from '../../core/arrange/types.js';
import type { ContradictionSideView, QuestionView } from '../types.js';
import { type Known, pointOf, whereOfPass } from './known.js';
import { pictureOf } from './riderLine.js';
import { clockWithSecondsOf } from './wallTime.js';

type Contradiction = Extract<Question, { kind: 'contradiction' }>;
type View = Extract<QuestionView, { kind: 'contradiction' }>;

export function contradictionView(known: Known, { id, sentence, between }: Contradiction, worth: number): View {
  return { kind: 'contradiction', id, sentence, worth, between: between ? betweenView(known, between) : null };
}

function betweenView(
  known: Known,
  { pairs, canBeOne, heldBy }: NonNullable<Contradiction['between']>,
): NonNullable<View['between']> | null {
  const [shown] = pairs;
  if (!shown) return null;
  const points = pairs.flatMap(([one, other]) => {
    const [a, b] = [pointOf(known, one), pointOf(known, other)];
    return a && b ? [[a, b] as const] : [];
  });
  const sides = [sideOf(known, shown[0]), sideOf(known, shown[1])] as const;
  return { sides, pairs: points, canBeOne, ...(heldBy && { heldBy }) };
}

function sideOf(known: Known, bike: BikeRef): ContradictionSideView {
  const pass = known.state.arrangement.passes.find(({ bikes }) =>
    bikes.some(({ frameId, subject }) => frameId === bike.frameId && subject === bike.subject),
  );
  const isPlaced = pass !== undefined && !known.unplaced.has(pass.index);
  return {
    picture: pictureOf(known, bike),
    code: (isPlaced && known.riderByKey.get(pass.rider)?.code) || null,
    where: pass ? `${clockWithSecondsOf(pass.start)}, ${whereOfPass(known, pass)}` : 'in no session',
  };
}

/**
 * How unlike riders come into pictures: the size of a negative binomial, measured by how many of a group have no good frame from
 * where the group was stood for. The fewer it is, the more riders go empty at the same mean; of chance alone it would be without end.
 * Riders whom no picture shows count as empty. Rule PL1207.
 */
import type { OwedRider } from '../../plan/lunch/types.js';
import type { YieldCell } from './yields.js';

/** Where the morning tells nothing: as of riders of whom one in five stays in. An assumption. */
const USUAL_SPREAD = 4;
const [LEAST, MOST] = [0.5, 20];
const HALVINGS = 30;

export function spreadOf(
  stood: readonly Pick<YieldCell, 'group' | 'spot'>[],
  owed: readonly OwedRider[],
  neverShown: ReadonlyMap<string, number>,
  framesAPass: number,
): number {
  const places = new Map(stood.map((one) => [`${one.group}|${one.spot}`, one]));
  const cells = [...places.values()].flatMap(({ group, spot }) => {
    const riders = owed.filter((rider) => rider.group === group);
    const unseen = neverShown.get(group) ?? 0;
    const frames = riders.reduce((sum, { good }) => sum + (good.get(spot) ?? 0), 0);
    const empty = riders.filter(({ good }) => !good.has(spot)).length + unseen;
    const all = riders.length + unseen;
    return all === 0 || frames === 0 ? [] : [{ all, empty, mean: frames / framesAPass / all }];
  });
  if (cells.length === 0) return USUAL_SPREAD;
  const surplus = (size: number): number =>
    cells.reduce((sum, { all, empty, mean }) => sum + empty - all * (1 + mean / size) ** -size, 0);
  let [low, high] = [LEAST, MOST];
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (low + high) / 2;
    if (surplus(middle) > 0) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

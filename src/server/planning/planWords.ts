/** The plan in words: how it stands, what is missing, what is wished. */
import { type AskedDay, type Stay, toldGap, type Wish } from '../../core/plan/day/index.js';
import { listed, spotInWords } from '../../core/plan/sheet/words.js';
import type { Spot } from '../../core/plan/types.js';
import type { PlanView, SolvingView } from '../planTypes.js';
import type { GroupKeyView } from '../types.js';
import { clockOf } from '../views/wallTime.js';
import { counted } from '../views/words.js';
import type { PlanKnown } from './planKnown.js';

interface Standing {
  readonly shown: PlanView['shown'];
  readonly missing: readonly string[];
  readonly stays: readonly Stay[];
  readonly asked: AskedDay | null;
  readonly groups: readonly GroupKeyView[];
  readonly solving: SolvingView;
  readonly stands: number;
  /** Different spots among them. */
  readonly standsAt: number;
}

export const missingOf = ({ day }: PlanKnown): readonly string[] => [
  ...(day.circuit === null ? ['the circuit with its spots'] : []),
  ...(day.slots.length === 0 ? ['a timetable of this day'] : []),
];

export function headlineOf({ shown, missing, stands, standsAt }: Standing): string {
  if (missing.length > 0) return `A plan needs ${listed(missing)}.`;
  const where = `${counted(stands, 'stay')} at ${counted(standsAt, 'spot')}`;
  switch (shown) {
    case 'found':
      return stands === 0 ? 'Nowhere to stand was found.' : `A plan is found: ${where}.`;
    case 'taken':
      return `Your plan: ${where}.`;
    case 'said':
      return `Where you said that you stand: ${where}.`;
    case 'none':
      return 'No plan yet.';
  }
}

export function leadOf(standing: Standing): readonly string[] {
  const { shown, missing, stays, asked, groups, solving } = standing;
  if (missing.length > 0 || asked === null) return [];
  if (shown === 'found' && standing.stands === 0)
    return ['Below stands why. Take a wish back or say that a spot is open, and have it made again.'];
  if (shown === 'none') return ['Say what you wish below, or have it made as it is.'];
  return [seenWords(asked, stays, groups), ...(shown === 'found' ? foundWords(solving) : [])];
}

/** `Novice from 4 spots and both sides` */
function seenWords({ problem }: AskedDay, stays: readonly Stay[], groups: readonly GroupKeyView[]): string {
  const words = groups.map(({ key, name }) => {
    const own = stays.filter(({ stretch }) => problem.stretches.find((one) => one.name === stretch)?.group === key);
    const spots = [...new Set(own.flatMap(({ spot }) => spot ?? []))];
    const sides = new Set(spots.flatMap((spot) => problem.sides[problem.spots.indexOf(spot)] ?? []));
    if (spots.length === 0) return `${name} from nowhere`;
    const both = sides.size === 2 ? ' and both sides' : sides.size === 1 ? `, the ${[...sides][0]} side only` : '';
    return `${name} from ${counted(spots.length, 'spot')}${both}`;
  });
  return `${words.join('; ')}.`;
}

function foundWords(solving: SolvingView): readonly string[] {
  if (solving.kind !== 'found') return [];
  const { plan, standsWorth, isOld } = solving;
  const gap = toldGap(plan);
  const sure = plan.isProvenBest
    ? 'None is better by this program’s reckoning.'
    : gap === null
      ? 'How far it is from the best is not known.'
      : `At most ${(gap * 100).toFixed(1)} % from the best by this program’s reckoning.`;
  const than = standsWorth === null ? '' : ` ${comparedWords(plan.worth, standsWorth)}`;
  return [
    `${sure}${than} It is yours only when you take it.`,
    ...(isOld ? ['Wishes, timetable or circuit have changed since it was asked for: have it made again.'] : []),
  ];
}

function comparedWords(worth: number, stands: number): string {
  const share = ((worth - stands) / Math.max(Math.abs(stands), 1e-9)) * 100;
  if (Math.abs(share) < 0.5) return 'What stands now is as good.';
  return `${Math.abs(share).toFixed(0)} % ${share > 0 ? 'more' : 'less'} than what stands now.`;
}

export function wishText(
  wish: Wish,
  groups: readonly Pick<GroupKeyView, 'key' | 'name'>[],
  spots: readonly Spot[],
): string {
  const at = (id: string) => {
    const spot = spots.find((one) => one.id === id);
    return spot === undefined ? id : spotInWords(spot);
  };
  switch (wish.kind) {
    case 'pin':
      return `${at(wish.spot)} in ${wish.stretch}`;
    case 'forbid':
      return `Not ${at(wish.spot)} in ${wish.stretch}`;
    case 'weigh-spot':
      return `${at(wish.spot)} counts ${timesWords(wish.times)}`;
    case 'weigh-group':
      return `${groups.find(({ key }) => key === wish.group)?.name ?? wish.group} counts ${timesWords(wish.times)}`;
    case 'closed':
      return `${at(wish.spot)} closed, ${clockOf(wish.from)} to ${clockOf(wish.to)}`;
    case 'rest':
      return `A rest, ${clockOf(wish.from)} to ${clockOf(wish.to)}`;
    case 'rain':
      return `Rain, ${clockOf(wish.from)} to ${clockOf(wish.to)}`;
  }
}

const timesWords = (times: number): string =>
  times === 0 ? 'nothing' : times === 0.5 ? 'half' : times === 2 ? 'twice' : `${times} times`;

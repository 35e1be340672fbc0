/** Two meetings beside each other, by what both did alike: rule RE10. Spots are matched by name, for each drawing has ids of its own. */
import { type Difference, differenceOf, isApart } from '../../numeric/shareDifference.js';
import type { Debrief, HitRate, Taken } from './types.js';

const TABLES = ['byShutter', 'bySpot', 'byGroup', 'byFocalLength', 'crossed'] as const;
type TableName = (typeof TABLES)[number];

/** What of a debrief is compared with another's. */
export type ComparedRates = Pick<Debrief, 'all' | TableName>;

export interface NamedDebrief {
  readonly meeting: string;
  readonly rates: ComparedRates;
  readonly spotName: (spot: NonNullable<Taken['spot']>) => string;
}

export interface BothRates {
  readonly before: HitRate;
  readonly after: HitRate;
  /** After less before. */
  readonly difference: Difference;
  readonly isApart: boolean;
}

export interface ComparedMeetings {
  readonly all: BothRates | null;
  readonly tables: Readonly<Record<TableName, readonly BothRates[]>>;
  /** How many of those compared would lie apart though nothing differed. */
  readonly apartByChance: number;
}

/** One comparison in twenty comes out apart though nothing differs. */
const BY_CHANCE = 0.05;

export function compareMeetings(before: NamedDebrief, after: NamedDebrief): ComparedMeetings {
  const tables = Object.fromEntries(TABLES.map((name) => [name, bothOf(name, before, after)])) as Record<
    TableName,
    readonly BothRates[]
  >;
  const [first, second] = [before.rates.all, after.rates.all];
  const comparisons = TABLES.reduce((sum, name) => sum + tables[name].length, 0);
  return {
    all: first === null || second === null ? null : both(first, second),
    tables,
    apartByChance: Math.round(BY_CHANCE * comparisons),
  };
}

function bothOf(table: TableName, before: NamedDebrief, after: NamedDebrief): readonly BothRates[] {
  const old = new Map(before.rates[table].map((rate) => [keyOf(rate.of, before), rate]));
  return after.rates[table].flatMap((rate) => {
    const other = old.get(keyOf(rate.of, after));
    return other === undefined ? [] : [both(other, rate)];
  });
}

const keyOf = ({ shutterS, spot, group, focalMm }: Taken, { spotName }: NamedDebrief): string =>
  JSON.stringify([shutterS, spot && spotName(spot).toLowerCase(), group?.toLowerCase(), focalMm]);

function both(before: HitRate, after: HitRate): BothRates {
  const difference = differenceOf(after.share, before.share);
  return { before, after, difference, isApart: isApart(difference) };
}

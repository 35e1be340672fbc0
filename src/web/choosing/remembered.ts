/** What a reload of the page would forget: the order as it was held, where one was in it, and the minutes. Who was gone through the desk knows. */
import type { RiderKey } from '../../core/ids.js';
import type { ChoosingView } from '../../server/choosing/types.js';
import type { Sitting } from './sitting.js';

export interface Remembered extends Pick<Sitting, 'at' | 'only'> {
  readonly order: readonly RiderKey[];
}

const NAME = 'tyrewall.choosing';

export const rememberSitting = ({ riders, at, only }: Sitting): void =>
  sessionStorage.setItem(NAME, JSON.stringify({ order: riders.map(({ key }) => key), at, only } satisfies Remembered));

/** Null: nothing that this desk wrote. */
export function rememberedSitting(): Remembered | null {
  try {
    const found = JSON.parse(sessionStorage.getItem(NAME) ?? 'null') as Partial<Remembered> | null;
    const isWhole = Array.isArray(found?.order) && (found.only === null || Array.isArray(found.only?.look));
    return isWhole ? (found as Remembered) : null;
  } catch {
    return null;
  }
}

/** Before a sitting begins: as it was, of those who are still there. An address that names somebody comes before where one was. */
export function recalled(sitting: Sitting, remembered: Remembered, view: ChoosingView, asked?: string): Sitting {
  const now = new Map(view.riders.map((rider) => [rider.key, rider]));
  const riders = remembered.order.flatMap((key) => now.get(key) ?? []);
  if (riders.length === 0) return sitting;
  const isHere = (key: string) => now.has(key as RiderKey);
  const was = remembered.at !== null && (remembered.at === 'over' || isHere(remembered.at)) ? remembered.at : null;
  const at = asked !== undefined && isHere(asked) ? (asked as RiderKey) : was;
  return { ...sitting, riders, at, only: remembered.only };
}

/** The page before leaving home: red only where something is missing, the rest as settled. */

import type { CareOfDay } from '../plan/care/types.js';
import type { CircuitSpot } from '../plan/circuit/types.js';
import { checkKit } from './checkKit.js';
import { checkPapers } from './checkPapers.js';
import { daysBetween } from './days.js';
import { packingList } from './packingList.js';
import { type BeforePage, type Check, type IsoDay, type KitItem, NOTHING_SAID, type Office } from './types.js';

export interface BeforeInput {
  readonly office: Office;
  readonly meeting: { readonly id: string; readonly firstDay: IsoDay; readonly lastDay: IsoDay };
  readonly today: IsoDay;
  readonly spots: readonly CircuitSpot[];
  readonly sessions: number | null;
  readonly care: CareOfDay;
}

export function beforePage({ office, meeting, today, spots, sessions, care }: BeforeInput): BeforePage {
  const papers = office.meetings[meeting.id] ?? NOTHING_SAID;
  const { own, kit } = office;
  const page = {
    papers: checkPapers({ own, papers, firstDay: meeting.firstDay, lastDay: meeting.lastDay, today }),
    kit: checkKit(kit, own),
    packing: packingList({ kit, papers, spots, sessions, care, hasProtector: own.protector !== undefined }),
  };
  return { ...page, headline: headlineOf(page, daysBetween(today, meeting.firstDay)), carried: carriedOf(kit) };
}

function headlineOf(page: Omit<BeforePage, 'headline' | 'carried'>, days: number): string {
  const all: readonly Check[] = [...page.papers, ...page.kit, ...page.packing];
  const missing = all.filter(({ is }) => is === 'missing').length;
  const open = page.packing.filter(({ is }) => is === 'open').length;
  const when =
    days > 1 ? `${days} days to go` : days === 1 ? 'Tomorrow' : days === 0 ? 'Today' : 'The meeting has begun';
  if (missing > 0) return `${when}: ${missing === 1 ? 'one thing is' : `${missing} things are`} missing.`;
  return open > 0 ? `${when}: nothing is missing, ${open} to pack.` : `${when}: nothing is missing, all is packed.`;
}

const IN_THE_VAN: ReadonlySet<string> = new Set(['disk']);

/** Spare cards and batteries are carried, disks stay in the van. */
export function carriedOf(kit: readonly KitItem[]): BeforePage['carried'] {
  const carried = kit.filter(({ kind }) => !IN_THE_VAN.has(kind));
  const grams = carried.reduce((sum, { weightG, count }) => sum + (weightG ?? 0) * count, 0);
  return { kg: grams / 1000, unweighed: carried.filter(({ weightG }) => weightG === undefined).length };
}

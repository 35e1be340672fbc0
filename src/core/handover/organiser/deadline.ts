/** When the organiser's pictures are due and whether they went. Rule OG14. */
import type { FrameId, SpotId } from '../../ids.js';
import { clockOf, DAY_MS, MINUTE_MS } from '../../plan/sheet/words.js';
import type { Timetable } from '../../plan/types.js';
import { type WallMs, wallMsOf } from '../../units.js';
import { SET_WISH } from './chooseForOrganiser.js';
import type { HandedSet, OrganiserAgreed, OrganiserView } from './types.js';

export interface OrganiserViewInput {
  /** Absent: nothing was agreed. */
  readonly agreed: OrganiserAgreed | undefined;
  readonly timetable: Timetable | null;
  readonly handed: readonly HandedSet[];
  /** What clocks at the meeting show now, also after its last day. */
  readonly clock: WallMs;
}

/** Null where nothing was agreed and nothing handed over. */
export function organiserView({ agreed, timetable, handed, clock }: OrganiserViewInput): OrganiserView | null {
  if (agreed === undefined && handed.length === 0) return null;
  const { name = null, pictures = SET_WISH.pictures, boards = [] } = agreed ?? {};
  const due = dueOf(agreed ?? {}, timetable);
  const first = handed.find((one) => one.is === 'set') ?? handed[0];
  const view = {
    name,
    pictures,
    due,
    handed: first === undefined ? null : { wall: first.wall, pictures: first.pictures.length },
    is: standingOf(due, first, clock),
    minutesLeft: due.kind === 'not-said' || first !== undefined ? null : Math.floor((due.at - clock) / MINUTE_MS),
    boards: boards as readonly SpotId[],
  };
  return { ...view, sentence: sentenceOf(view, clock) };
}

function dueOf({ due, dueMinutesAfterFlag }: OrganiserAgreed, timetable: Timetable | null): OrganiserView['due'] {
  if (due !== undefined) return { kind: 'said', at: wallMsOf(Date.parse(`${due}Z`)) };
  const last = (timetable?.slots ?? []).reduce<Timetable['slots'][number] | null>(
    (latest, slot) => (latest === null || slot.end > latest.end ? slot : latest),
    null,
  );
  if (dueMinutesAfterFlag === undefined || last === null) return { kind: 'not-said' };
  const at = wallMsOf(last.end + dueMinutesAfterFlag * MINUTE_MS);
  return { kind: 'after-flag', at, flag: last.end, slot: last.name };
}

function standingOf(due: OrganiserView['due'], handed: HandedSet | undefined, clock: WallMs): OrganiserView['is'] {
  if (due.kind === 'not-said') return handed === undefined ? 'not-asked' : 'handed';
  if (handed !== undefined) return handed.wall <= due.at ? 'in-time' : 'handed-late';
  return clock <= due.at ? 'to-do' : 'late';
}

function sentenceOf(view: Omit<OrganiserView, 'sentence'>, clock: WallMs): string {
  const { due, handed, is, minutesLeft, pictures } = view;
  const whose = view.name ?? 'the organiser';
  const wanted = `${pictures} ${pictures === 1 ? 'picture' : 'pictures'} for ${whose}`;
  const when = due.kind === 'not-said' ? '' : whenOf(due, clock);
  if (handed !== null) {
    const count = `${handed.pictures} ${handed.pictures === 1 ? 'picture' : 'pictures'} for ${whose} handed over at ${timeOf(handed.wall, clock, due.kind === 'not-said' ? clock : due.at)}`;
    if (is === 'handed-late' && due.kind !== 'not-said')
      return `${count}, ${lengthOf(Math.ceil((handed.wall - due.at) / MINUTE_MS))} after they were due (${when}).`;
    return `${count}${is === 'in-time' ? `, in time: due ${when}` : ''}.`;
  }
  if (due.kind === 'not-said') return `${wanted}; when they are due nobody said.`;
  const left = minutesLeft ?? 0;
  return left < 0
    ? `${wanted} were due ${when}, ${lengthOf(-left)} ago.`
    : `${wanted} due ${when}, in ${lengthOf(left)}.`;
}

function whenOf(due: Exclude<OrganiserView['due'], { kind: 'not-said' }>, clock: WallMs): string {
  const at = timeOf(due.at, clock);
  return due.kind === 'said' ? `at ${at}` : `at ${at}, by the flag of ${due.slot} at ${clockOf(due.flag)}`;
}

/** With its day where that is not today, or not the day of the time it stands beside. */
const timeOf = (wall: WallMs, ...others: readonly WallMs[]): string =>
  others.every((other) => Math.floor(wall / DAY_MS) === Math.floor(other / DAY_MS))
    ? clockOf(wall)
    : `${new Date(wall).toISOString().slice(0, 10)} ${clockOf(wall)}`;

function lengthOf(minutes: number): string {
  if (minutes < 120) return `${minutes} min`;
  return minutes < 48 * 60 ? `${Math.floor(minutes / 60)} h` : `${Math.floor(minutes / 60 / 24)} days`;
}

/** What went to the organiser and was taken down since: nobody but a person can tell them. */
export function downSince(handed: readonly HandedSet[], down: ReadonlySet<FrameId>): readonly string[] {
  const files = new Map<FrameId, string>();
  for (const { pictures } of handed)
    for (const { frameId, file } of pictures) if (down.has(frameId)) files.set(frameId, file);
  if (files.size === 0) return [];
  const names = [...files.values()].join(', ');
  const [were, them] = files.size === 1 ? ['was', 'it'] : ['were', 'them'];
  return [
    `${names} went to the organiser and ${were} taken down or held back since: ask them to remove ${them}, and hand the set over again.`,
  ];
}

/** One glance at the phone: what is on now, where to stand next, how long it is until then. */
import type { PocketDay, PocketSlot, PocketStay, Tap } from './types.js';

const MINUTE_MS = 60_000;

export interface Glance {
  /** Slots as they stand after what was tapped. */
  readonly slots: readonly PocketSlot[];
  readonly isOut: PocketSlot | null;
  /** A red flag stands: since when, in the day's minutes. */
  readonly stoppedAtMin: number | null;
  readonly next: PocketSlot | null;
  /** Where one stands now or goes next; null: the plan is over. */
  readonly stay: PocketStay | null;
  /** `there`: the stay runs; `go`: time to be on the way; `later`: its way need not begin yet. */
  readonly way: 'there' | 'go' | 'later';
  readonly after: PocketStay | null;
  /** What the large figure counts down to. */
  readonly countdown:
    | { readonly to: 'out' | 'end'; readonly slot: PocketSlot; readonly ms: number }
    | { readonly to: 'nothing' };
}

/** @param nowMs milliseconds since the day's midnight at the circuit, by the phone's clock */
export function glanceAt(day: PocketDay, taps: readonly Tap[], nowMs: number): Glance {
  const nowMin = nowMs / MINUTE_MS;
  const slots = slotsAsTapped(day, taps);
  const isOut = slots.find(({ fromMin, toMin }) => fromMin <= nowMin && nowMin < toMin) ?? null;
  const next = slots.find(({ fromMin }) => fromMin > nowMin) ?? null;
  const stays = staysAsTapped(day, slots);
  const place = stays.findIndex(({ toMin }) => toMin > nowMin);
  const stay = stays[place] ?? null;
  return {
    slots,
    isOut,
    stoppedAtMin: stoppedAt(day, taps, isOut),
    next,
    stay,
    way: wayOf(stay, nowMin),
    after: stays[place + 1] ?? null,
    countdown: countdownOf(stay, slots, nowMs),
  };
}

function wayOf(stay: PocketStay | null, nowMin: number): Glance['way'] {
  if (stay === null || nowMin >= stay.fromMin) return 'there';
  return stay.wayMin > 0 && nowMin >= stay.fromMin - stay.wayMin ? 'go' : 'later';
}

/** To the going out of the stay's next session, or to the end of the one it holds. */
function countdownOf(stay: PocketStay | null, slots: readonly PocketSlot[], nowMs: number): Glance['countdown'] {
  if (stay === null) return { to: 'nothing' };
  const nowMin = nowMs / MINUTE_MS;
  const slot = slots.find(({ fromMin, toMin }) => toMin > nowMin && fromMin < stay.toMin && toMin > stay.fromMin);
  if (slot === undefined) return { to: 'nothing' };
  const isOut = slot.fromMin <= nowMin;
  return { to: isOut ? 'end' : 'out', slot, ms: (isOut ? slot.toMin : slot.fromMin) * MINUTE_MS - nowMs };
}

/**
 * Where a session slips, a sliding day moves all that follows; by the clock only its own start moves. The laptop's rule is the
 * same and knows more: this holds until it has been asked.
 */
export function slotsAsTapped(day: PocketDay, taps: readonly Tap[]): readonly PocketSlot[] {
  let slots = day.slots;
  for (const [name, byMin] of lateBy(day, taps)) {
    const place = slots.findIndex((slot) => slot.name === name);
    const isSliding = day.slipRule === 'sliding';
    // A slot that was moved already by an earlier one is late only by what is left.
    const more = place < 0 ? 0 : byMin - (slots[place]!.fromMin - day.slots[place]!.fromMin);
    if (more > 0)
      slots = slots.map((slot, index) => (index < place ? slot : moved(slot, more, isSliding, index === place)));
  }
  return slots;
}

const moved = (slot: PocketSlot, byMin: number, isSliding: boolean, isSlipped: boolean): PocketSlot => {
  if (isSliding) return { ...slot, fromMin: slot.fromMin + byMin, toMin: slot.toMin + byMin };
  return isSlipped ? { ...slot, fromMin: Math.min(slot.toMin, slot.fromMin + byMin) } : slot;
};

/** By slot, in the day's order; the last word about each. */
function lateBy({ slots }: PocketDay, taps: readonly Tap[]): readonly (readonly [string, number])[] {
  const said = new Map<string, number>();
  for (const tap of taps.filter(({ isUndone }) => !isUndone)) {
    if (tap.kind === 'late') said.set(tap.slot, tap.byMin);
    if (tap.kind === 'out') said.set(tap.slot, Math.max(0, tap.afterStartS / 60));
  }
  return slots.flatMap(({ name }) => (said.has(name) ? [[name, said.get(name)!] as const] : []));
}

/** A stay follows the sessions it was made for: it moves as the first slot that begins in it. */
function staysAsTapped(day: PocketDay, slots: readonly PocketSlot[]): readonly PocketStay[] {
  return day.stays.map((stay) => {
    const place = day.slots.findIndex(({ fromMin, toMin }) => toMin > stay.fromMin && fromMin < stay.toMin);
    if (place < 0 || day.slipRule !== 'sliding') return stay;
    const byMin = slots[place]!.fromMin - day.slots[place]!.fromMin;
    return byMin === 0 ? stay : { ...stay, fromMin: stay.fromMin + byMin, toMin: stay.toMin + byMin };
  });
}

function stoppedAt({ day }: PocketDay, taps: readonly Tap[], isOut: PocketSlot | null): number | null {
  const standing = taps.filter(({ isUndone }) => !isUndone);
  const flag = standing.findLast(({ kind }) => kind === 'red-flag');
  if (flag === undefined || isOut === null) return null;
  const hasGoneOn = standing.some((tap) => tap.kind === 'resumed' && tap.stoppedAt === flag.at);
  const atMin = (flag.at - day) / MINUTE_MS;
  return hasGoneOn || atMin < isOut.fromMin ? null : atMin;
}

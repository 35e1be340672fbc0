/** The table of the sheet: before the day, stays and the ways between them, lunch at the van, and afterwards. */
import type { SpotId } from '../../ids.js';
import { type WallMs, wallMsOf } from '../../units.js';
import type { TimetableSlot } from '../types.js';
import { goingBy, lineOf } from './goingBy.js';
import { inLight, settingsOfStay } from './settingsOfStay.js';
import type { PlainStay } from './stays.js';
import type { SheetInput, SheetRow, SheetStay, SheetWay } from './types.js';
import { clockOf, MINUTE_MS, spotInWords } from './words.js';

export interface FoundRows {
  readonly rows: readonly SheetRow[];
  readonly warnings: readonly string[];
}

/** Stays that a later start of the sheet leaves out are not among `stays`; `all` are those of all photographers. */
export function rowsOf(input: SheetInput, stays: readonly PlainStay[], all: readonly PlainStay[]): FoundRows {
  const { lunch } = input;
  const unseen = [...goingBy(input, all)];
  const ends = unseen.at(-1)?.to ?? null;
  const goneBefore = (at: number) => {
    const first = unseen.findIndex(({ from }) => from >= at);
    return unseen.splice(0, first < 0 ? unseen.length : first).map(lineOf);
  };
  const table = new Table(input);
  table.addLines(before(input));
  let place: SpotId | null = null;
  let freeFrom: WallMs | null = null;
  for (const stay of stays) {
    const isAfterLunch = lunch !== null && stay.begins >= lunch.to && (freeFrom ?? lunch.from) <= lunch.to;
    if (isAfterLunch && freeFrom !== null) {
      const left = freeFrom;
      const from = place;
      table.inOrder(() => {
        table.addWay(from, null, left, null);
        table.addLines(goneBefore(lunch.to));
        table.addLines([{ kind: 'line', is: 'lunch', at: wallMsOf(Math.max(lunch.from, left)), words: LUNCH }]);
      });
      place = null;
      freeFrom = null;
    }
    const arrives = table.inOrder(() => {
      const at = table.addWay(place, stay.spot.id, freeFrom, stay);
      table.addLines(goneBefore(stay.begins));
      return at;
    });
    table.addStay(stay, arrives === null || arrives >= stay.to ? stay.from : wallMsOf(Math.max(stay.from, arrives)));
    place = stay.spot.id;
    freeFrom = stay.to;
  }
  table.addLines(goneBefore(Number.POSITIVE_INFINITY));
  // Whoever leaves the spot early is at the circuit still while bikes run.
  const over = freeFrom === null ? null : wallMsOf(Math.max(freeFrom, ends ?? freeFrom));
  table.addLines([{ kind: 'line', is: 'after', at: over, words: AFTER }]);
  return table;
}

const CLOCK = 'A seconds clock photographed with every body.';
const WATER = 'Water, plugs, brim.';
const LUNCH = 'Lunch at the van: cards in, shade, food, water. Format only what was read back from two disks.';
const AFTER = 'Bib back. Cards in before the drive; a break every two hours.';

function before({ times, from }: SheetInput): readonly SheetRow[] {
  if (from !== undefined) return [{ kind: 'line', is: 'before', at: from, words: `${WATER} ${CLOCK}` }];
  const signOn = 'Sign-on and media briefing: bib, photographers’ map; ask the marshals where to stand.';
  return [
    {
      kind: 'line',
      is: 'sign-on',
      at: times.signOn ?? null,
      words: times.briefing === undefined ? signOn : 'Sign-on: bib, photographers’ map.',
    },
    ...(times.briefing === undefined
      ? []
      : [
          {
            kind: 'line' as const,
            is: 'briefing' as const,
            at: times.briefing,
            words: 'Media briefing: ask the marshals where to stand.',
          },
        ]),
    { kind: 'line', is: 'before', at: null, words: `${CLOCK} ${WATER}` },
  ];
}

class Table implements FoundRows {
  readonly rows: SheetRow[] = [];
  readonly warnings: string[] = [];
  readonly #seen = new Set<SpotId>();
  readonly #input: SheetInput;

  constructor(input: SheetInput) {
    this.#input = input;
  }

  addLines(lines: readonly SheetRow[]): void {
    this.rows.push(...lines);
  }

  /** What is added meanwhile, by when it begins: a session goes by after one has left for elsewhere, not before. */
  inOrder<Answer>(add: () => Answer): Answer {
    const first = this.rows.length;
    const answer = add();
    const added = this.rows.splice(first);
    this.rows.push(...added.toSorted((a, b) => beginOf(a) - beginOf(b)));
    return answer;
  }

  /**
   * The way to the next stay; a null place is the van. `leaves` null: from the van, in time.
   * Answers when one arrives, null where that is not known.
   */
  addWay(from: SpotId | null, to: SpotId | null, leaves: WallMs | null, next: PlainStay | null): WallMs | null {
    if (from === to) return null;
    const answer = this.#input.wayBetween(from, to);
    const names = `${this.#name(from)} to ${this.#name(to)}`;
    if (answer.kind === 'way') return this.#addKnownWay(answer.way, leaves, next, names);
    const isCold = leaves === null && this.rows.every(({ kind }) => kind !== 'stay');
    if (answer.kind === 'no-way' && !isCold) {
      const words = `No way from ${names} may be used while the track is hot: ask the marshals.`;
      this.warnings.push(words);
      this.rows.push({ kind: 'line', is: 'way', at: leaves, words });
    } else if (answer.kind === 'not-known' && this.#input.circuit !== undefined) {
      this.rows.push({ kind: 'line', is: 'way', at: leaves, words: `How long it takes from ${names} is not known.` });
    }
    return null;
  }

  #addKnownWay(way: SheetWay, leaves: WallMs | null, next: PlainStay | null, names: string): WallMs {
    const ms = way.minutes * MINUTE_MS;
    const from = leaves ?? wallMsOf((next?.from ?? 0) - ms);
    const to = wallMsOf(from + ms);
    const outOf = leaves === null ? undefined : this.#input.slots.find(({ start, end }) => start < from && from < end);
    const words = [
      way.by === 'foot' ? 'walk' : 'drive',
      `${way.minutes} min`,
      ...(way.words === undefined ? [] : [way.words]),
    ].join(' ');
    if (next !== null && to >= next.to) {
      // One cannot get there while it lasts: the stay is left as it was said, and the way has no times of its own.
      this.rows.push({ kind: 'line', is: 'way', at: from, words: `${words}: not there before ${clockOf(next.to)}` });
      this.warnings.push(missedWarning(names, from, to, next));
      return to;
    }
    const where = next === null ? `${words} to the van` : leaves === null ? `${words} from the van` : words;
    this.rows.push({
      kind: 'way',
      from,
      to,
      minutes: way.minutes,
      by: way.by,
      words: outOf === undefined ? where : `${where}, out of ${outOf.name}`,
    });
    if (next !== null && to > next.begins) this.warnings.push(lateWarning(names, from, to, next));
    return to;
  }

  addStay(stay: PlainStay, from: WallMs): void {
    const isFirst = !this.#seen.has(stay.spot.id);
    this.#seen.add(stay.spot.id);
    const light = this.#input.lightWords(stay.spot.id, stay.begins, stay.to);
    const { notes, ...settings } = inLight(light, settingsOfStay(this.#input, stay));
    const row: SheetStay = {
      kind: 'stay',
      from,
      to: stay.to,
      spot: stay.spot,
      sessions: stay.sessions,
      light,
      ...settings,
      notes: [...notes, ...partNotes(stay, this.#input.slots)],
      cautions: isFirst ? cautionsAt(this.#input, stay.spot.id) : [],
      isSaid: stay.isSaid,
    };
    this.rows.push(row);
  }

  #name(place: SpotId | null): string {
    const spot = this.#input.spots.find(({ id }) => id === place);
    return spot === undefined ? 'the van' : spotInWords(spot);
  }
}

const beginOf = (row: SheetRow): number => (row.kind === 'line' ? row.at : row.from) ?? Number.NEGATIVE_INFINITY;

const cautionsAt = ({ cautions }: SheetInput, id: SpotId): readonly string[] =>
  cautions.flatMap(({ spot, sentence }) => (spot?.id === id ? [sentence] : []));

function lateWarning(names: string, from: WallMs, to: WallMs, next: PlainStay): string {
  const minutes = Math.ceil((to - next.begins) / MINUTE_MS);
  const what = next.sessions[0]?.name ?? 'the stay';
  return `From ${names} you leave at ${clockOf(from)} and are there at ${clockOf(to)}, ${minutes} min after ${what} begins to count there. Leave earlier, or plan again.`;
}

const missedWarning = (names: string, from: WallMs, to: WallMs, next: PlainStay): string =>
  `From ${names} you leave at ${clockOf(from)} and are there at ${clockOf(to)}, when the stay is over (${clockOf(next.to)}). Leave one of the two out, or say which body stands where if two of you share the day.`;

/** A session that is photographed in part from here: until when, or from when. */
function partNotes(stay: PlainStay, slots: readonly TimetableSlot[]): readonly string[] {
  return stay.sessions.flatMap(({ name, isWhole }) => {
    const slot = slots.find((one) => one.name === name);
    if (isWhole || slot === undefined) return [];
    const isLateStart = stay.begins > slot.start;
    const isEarlyEnd = stay.to < slot.end;
    if (isLateStart && isEarlyEnd) return [`${name} ${clockOf(stay.begins)}–${clockOf(stay.to)}`];
    return isLateStart ? [`${name} from ${clockOf(stay.begins)}`] : [`${name} until ${clockOf(stay.to)}`];
  });
}

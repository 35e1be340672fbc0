/**
 * The run sheet: a plan taken, or stands that a person says, put together with timetable, light, settings, ways, riders still
 * to get and cautions. Nothing is worked out here that another part knows better; what is not known is left out or said.
 */
import { wallOfEpoch } from '../../numeric/wallTime.js';
import { epochMsOf, unitIntervalOf } from '../../units.js';
import { RULES_FIRST } from '../care/cautions.js';
import type { Group } from '../types.js';
import { mapOf } from './map.js';
import { rowsOf } from './rows.js';
import { type PlainStay, staysOf } from './stays.js';
import { stillToGetOf } from './stillToGet.js';
import type { RunSheet, SheetGroup, SheetInput, SheetStand, SheetSun } from './types.js';
import { clockOf } from './words.js';

export function runSheet(input: SheetInput): RunSheet {
  const { stays, warnings } = staysOf(input);
  const from = input.from ?? -Infinity;
  const table = rowsOf(
    input,
    stays.filter(({ to }) => to > from),
    staysOfAll(input, stays),
  );
  return {
    title: titleOf(input),
    meeting: input.meeting,
    circuit: input.circuit?.name ?? null,
    day: input.day,
    zone: input.zone,
    printedAt: input.printedAt,
    groups: tonedGroups(input.groups),
    slots: input.slots,
    stands: standsOf(stays, from),
    sun: sunOf(input),
    rows: table.rows,
    ...stillToGetOf(input.groups, input.watch),
    wheelSpots: input.spots,
    map: input.circuit === undefined ? null : mapOf(input.circuit, table.rows),
    cautions: cautionsOfDay(input),
    contacts: input.contacts,
    warnings: [...nothingPlanned(stays), ...warnings, ...table.warnings],
  };
}

const staysOfAll = (input: SheetInput, own: readonly PlainStay[]): readonly PlainStay[] =>
  Array.from({ length: input.photographers }, (_, photographer) =>
    photographer === input.photographer ? own : staysOf({ ...input, photographer }).stays,
  ).flat();

function titleOf({ from, lunch, photographer, photographers }: SheetInput): string {
  const part =
    from === undefined
      ? ''
      : lunch !== null && from >= lunch.from && from <= lunch.to
        ? ', after lunch'
        : `, from ${clockOf(from)}`;
  return `Run sheet${part}${photographers > 1 ? `, photographer ${photographer + 1} of ${photographers}` : ''}`;
}

const tonedGroups = (groups: readonly Group[]): readonly SheetGroup[] =>
  groups.map((group, i) => ({ ...group, tone: unitIntervalOf(groups.length < 2 ? 0 : i / (groups.length - 1)) }));

const standsOf = (stays: readonly PlainStay[], from: number): readonly SheetStand[] =>
  stays.map((stay) => ({ spot: stay.spot, from: stay.from, to: stay.to, isDone: stay.to <= from }));

function sunOf({ sunRows, spots, circuit, zone }: SheetInput): readonly SheetSun[] {
  const wall = (at: number) => wallOfEpoch(epochMsOf(at), zone);
  return spots.flatMap((spot) => {
    const row = sunRows.find((one) => one.spot === spot.id);
    if (row === undefined) return [];
    return [
      {
        spot,
        viewAzimuthDeg: circuit?.spots.find(({ id }) => id === spot.id)?.viewAzimuthDeg ?? null,
        threads: row.threads.map(({ kind, points }) => ({
          kind,
          points: points.map(({ at, shade }) => ({ at: wall(at), shade })),
        })),
        changes: row.changes.map(wall),
        words: row.words.map((span) => ({ from: wall(span.from), to: wall(span.to), word: span.word })),
      },
    ];
  });
}

/** 87.5 dB at 20 m and 6 dB more at half the distance: a bike by the drive-by limit of one circuit. */
const EARS_AND_WATER = '87.5 dB at 20 m is about 93.5 dB at 10 m: plugs in. In heat 250 ml every 15 min.';

function cautionsOfDay({ cautions }: SheetInput): readonly string[] {
  const ofDay = cautions.flatMap(({ spot, sentence }) => (spot === null && sentence !== RULES_FIRST ? [sentence] : []));
  return [RULES_FIRST, ...ofDay, EARS_AND_WATER];
}

const nothingPlanned = (stays: readonly PlainStay[]): readonly string[] =>
  stays.length === 0 ? ['Nothing is planned for this day yet: take a plan, or say where you stand and when.'] : [];

import { describe, expect, it } from 'vitest';
import type { BodyKey, SpotId } from '../../ids.js';
import { wallMsOf } from '../../units.js';
import type { Stay, Stretch } from '../day/types.js';
import type { Stand } from '../types.js';
import { runSheet } from './runSheet.js';
import { at, DAY, handMadeDay, SLOTS, STANDS, spotId, stand, watched } from './testing/handMadeDay.js';
import type { SheetRow, SheetStay } from './types.js';
import { clockOf } from './words.js';

const stretchesOf = (name: string): readonly Stretch[] => {
  const slot = SLOTS.find((one) => one.name === name)!;
  const middle = wallMsOf((slot.start + slot.end) / 2);
  const part = (half: string, from: number, to: number): Stretch => ({
    name: `${name} ${half} half`,
    slot: name,
    group: slot.group,
    from: wallMsOf(from),
    to: wallMsOf(to),
    isSighting: false,
  });
  return [part('first', slot.start, middle), part('second', middle, slot.end)];
};
const STRETCHES = SLOTS.flatMap(({ name }) => stretchesOf(name));
const stay = (stretch: string, spot: number | null): Stay => ({
  photographer: 0,
  stretch,
  spot: spot === null ? null : spotId(spot),
});

const lineOf = (row: SheetRow): string =>
  row.kind === 'stay'
    ? `${clockOf(row.from)}–${clockOf(row.to)} ${row.spot.name} ${row.sessions.map(({ name }) => name).join(' ')}`
    : row.kind === 'way'
      ? `${clockOf(row.from)} ${row.words}`
      : `${row.at === null ? '' : clockOf(row.at)} ${row.words}`;
const linesOf = (sheet: { readonly rows: readonly SheetRow[] }) => sheet.rows.map(lineOf);
const staysIn = (sheet: { readonly rows: readonly SheetRow[] }) =>
  sheet.rows.filter((row): row is SheetStay => row.kind === 'stay');

describe('the run sheet', () => {
  it('PL601: is made from what the person says alone: stands, sessions, ways, lunch at the van, before and after', () => {
    expect(linesOf(runSheet(handMadeDay()))).toEqual([
      '07:30 Sign-on: bib, photographers’ map.',
      '08:20 Media briefing: ask the marshals where to stand.',
      ' A seconds clock photographed with every body. Water, plugs, brim.',
      '08:47 walk 8 min from the van',
      '08:55–09:58 Beacon N1 I1 F1',
      '09:58 walk 6 min over the bridge, out of F1',
      '10:04–11:00 Gannet N2 I2 F2',
      '11:00 walk 6 min over the bridge',
      '11:07–11:58 Slipway N3 I3 F3',
      '11:58 walk 6 min over the bridge, out of F3',
      '12:04–13:00 Lifeboat N4 I4 F4',
      '13:00 walk 8 min to the van',
      '13:00 Lunch at the van: cards in, shade, food, water. Format only what was read back from two disks.',
      '13:47 walk 8 min from the van',
      '13:55–14:47 Strand N5 I5 F5',
      '14:47 drive 7 min by the tunnel, out of F5',
      '14:54–15:47 Gannet N6 I6 F6',
      '15:47 walk 6 min over the bridge, out of F6',
      '15:53–17:00 Coble F6 N7 I7 F7',
      '17:00 Bib back. Cards in before the drive; a break every two hours.',
    ]);
    expect(runSheet(handMadeDay()).warnings).toEqual([]);
    expect(staysIn(runSheet(handMadeDay())).every(({ isSaid }) => isSaid)).toBe(true);
  });

  it('PL602: stretches of a plan at one spot are one stay, there five minutes before the first bike', () => {
    const stays = [
      ...['N1 first half', 'N1 second half', 'I1 first half', 'I1 second half', 'F1 first half'].map((name) =>
        stay(name, 1),
      ),
      stay('F1 second half', null),
      ...['N2 first half', 'N2 second half'].map((name) => stay(name, 2)),
    ];
    const sheet = runSheet(handMadeDay({ source: { kind: 'plan', stays, stretches: STRETCHES } }));
    expect(staysIn(sheet).map(lineOf)).toEqual(['08:55–09:50 Beacon N1 I1 F1', '09:56–10:20 Gannet N2']);
    expect(staysIn(sheet)[0]!.notes).toContain('F1 until 09:50');
    expect(staysIn(sheet)[0]!.sessions.map(({ isWhole }) => isWhole)).toEqual([true, true, false]);
    expect(staysIn(sheet).some(({ isSaid }) => isSaid)).toBe(false);
  });

  it('PL602: what is said after the plan was taken stands before it', () => {
    const stays = ['N1', 'I1', 'F1'].map((name) => stay(`${name} first half`, 1));
    const source = { kind: 'plan', stays, stretches: STRETCHES, said: [stand(3, '09:18', '09:40')] } as const;
    const sheet = runSheet(handMadeDay({ source }));
    expect(staysIn(sheet).map(lineOf)).toEqual([
      '08:55–09:10 Beacon N1',
      '09:18–09:40 Lifeboat I1',
      '09:46–09:50 Beacon F1',
    ]);
    expect(staysIn(sheet).map(({ isSaid }) => isSaid)).toEqual([false, true, false]);
  });

  it('PL602: of two photographers each gets their own stays', () => {
    const stays: readonly Stay[] = [
      stay('N1 first half', 1),
      { photographer: 1, stretch: 'N1 first half', spot: spotId(3) },
    ];
    const source = { kind: 'plan', stays, stretches: STRETCHES } as const;
    const second = runSheet(handMadeDay({ source, photographer: 1, photographers: 2 }));
    expect(staysIn(second).map(({ spot }) => spot.name)).toEqual(['Lifeboat']);
    expect(second.title).toBe('Run sheet, photographer 2 of 2');
  });

  it('PL602: bodies at two spots at once are two photographers, each with their own stays and ways', () => {
    const by = (body: string, one: Stand): Stand => ({ ...one, body: body as BodyKey });
    const stands = [
      by('a', stand(1, '09:58', '10:53')),
      by('b', stand(2, '09:58', '11:18')),
      by('a', stand(5, '10:55', '14:19')),
      by('b', stand(1, '13:31', '14:19')),
    ];
    const sheetFor = (photographer: number) =>
      runSheet(handMadeDay({ source: { kind: 'stands', stands }, photographer, photographers: 2, lunch: null }));
    const [first, second] = [sheetFor(0), sheetFor(1)];
    expect(staysIn(first).map(lineOf)).toEqual([
      '09:58–10:53 Beacon N2 I2 F2',
      '10:59–14:19 Slipway N3 I3 F3 N4 I4 F4 N5',
    ]);
    expect(staysIn(second).map(lineOf)).toEqual(['09:58–11:18 Gannet N2 I2 F2 N3', '13:31–14:19 Beacon N5']);
    expect(first.title).toBe('Run sheet, photographer 1 of 2');
    for (const row of [...staysIn(first), ...staysIn(second)]) expect(row.to).toBeGreaterThan(row.from);
    expect(second.warnings).toEqual([]);
  });

  it('PL602: two bodies of one photographer at one spot are one stay', () => {
    const stands = [
      { ...stand(1, '09:00', '10:00'), body: 'a' as BodyKey },
      { ...stand(1, '09:20', '10:10'), body: 'b' as BodyKey },
    ];
    const sheet = runSheet(handMadeDay({ source: { kind: 'stands', stands } }));
    expect(staysIn(sheet).map(lineOf)).toEqual(['09:00–10:10 Beacon N1 I1 F1 N2']);
    expect(sheet.title).toBe('Run sheet');
  });

  it('PL603: a stay that is over before one can be there is left as said, and never one of no minutes', () => {
    const stands = [stand(1, '09:00', '10:00'), stand(2, '10:01', '10:05')];
    const sheet = runSheet(handMadeDay({ source: { kind: 'stands', stands } }));
    expect(staysIn(sheet).map(lineOf)[1]).toBe('10:01–10:05 Gannet N2');
    expect(linesOf(sheet)).toContain('10:00 walk 6 min over the bridge: not there before 10:05');
    expect(sheet.warnings).toEqual([
      'From 1 Beacon to 2 Gannet you leave at 10:00 and are there at 10:06, when the stay is over (10:05). Leave one of the two out, or say which body stands where if two of you share the day.',
    ]);
  });

  it('PL603: a way that takes too long, or that may not be used, is said', () => {
    const stands = [stand(1, '09:00', '10:00'), stand(2, '10:02', '11:00')];
    const late = runSheet(handMadeDay({ source: { kind: 'stands', stands } }));
    expect(late.warnings).toEqual([
      'From 1 Beacon to 2 Gannet you leave at 10:00 and are there at 10:06, 4 min after N2 begins to count there. Leave earlier, or plan again.',
    ]);
    expect(staysIn(late).map(lineOf)[1]).toBe('10:06–11:00 Gannet N2 I2 F2');
    const none = runSheet(handMadeDay({ source: { kind: 'stands', stands }, wayBetween: () => ({ kind: 'no-way' }) }));
    expect(none.warnings[0]).toBe(
      'No way from 1 Beacon to 2 Gannet may be used while the track is hot: ask the marshals.',
    );
    const unknown = runSheet(
      handMadeDay({ source: { kind: 'stands', stands }, wayBetween: () => ({ kind: 'not-known' }) }),
    );
    expect(linesOf(unknown)).toContain('10:00 How long it takes from 1 Beacon to 2 Gannet is not known.');
  });

  it('PL609: sessions that nobody stands at are named where they fall, with why, and the bib goes back after the last', () => {
    const stands = [stand(1, '09:20', '10:20'), stand(2, '14:00', '14:40')];
    const unseenWhy = new Map([...SLOTS.slice(4, 12).map(({ name }) => [name, 'too far'] as const)]);
    const sheet = runSheet(handMadeDay({ source: { kind: 'stands', stands }, unseenWhy }));
    const lines = linesOf(sheet).filter((line) => / by: |^\d\d:\d\d–| Bib | Lunch /.test(line));
    expect(lines.map((line) => line.replace(/(Lunch|Bib).*/, '$1'))).toEqual([
      '09:00 N1 goes by: nobody stands there.',
      '09:20–10:20 Beacon I1 F1 N2',
      '10:20 I2 to F4, 8 sessions, go by: too far.',
      '13:00 Lunch',
      '14:00–14:40 Gannet N5 I5',
      '14:40 F5 to F7, 7 sessions, go by: nobody stands there.',
      '17:00 Bib',
    ]);
  });

  it('PL609: the map keeps the minutes of a way during which sessions go by', () => {
    const stands = [stand(1, '09:00', '10:00'), stand(2, '11:00', '13:00')];
    const sheet = runSheet(handMadeDay({ source: { kind: 'stands', stands } }));
    expect(linesOf(sheet)).toContain('10:00 N2, I2 and F2 go by: nobody stands there.');
    expect(sheet.map!.minutes).toEqual([{ from: spotId(1), to: spotId(2), minutes: 6 }]);
  });

  it('PL609: a session goes by after one has left for elsewhere, and before a way that begins later', () => {
    const stands = [stand(1, '09:00', '10:00'), stand(2, '12:00', '12:40'), stand(4, '15:00', '15:20')];
    const sheet = runSheet(handMadeDay({ source: { kind: 'stands', stands } }));
    const lines = linesOf(sheet).map((line) =>
      line.replace(/ (?:over|by) the.*| go by.*|at the van.*| from the van/, ''),
    );
    expect(lines.slice(3, -1)).toEqual([
      '08:52 walk 8 min',
      '09:00–10:00 Beacon N1 I1 F1',
      '10:00 walk 6 min',
      '10:00 N2 to F3, 6 sessions,',
      '12:00–12:40 Gannet N4 I4',
      '12:40 walk 8 min to the van',
      '12:40 F4, N5, I5 and F5',
      '13:00 Lunch ',
      '14:52 walk 8 min',
      '15:00–15:20 Strand N6',
      '15:20 I6 to F7, 5 sessions,',
    ]);
  });

  it('PL616: of a stay in the dark no shutter stands, and that only a test frame tells', () => {
    const dark = runSheet(handMadeDay({ lightWords: () => 'dark' }));
    const notes = ['what light is left only a test frame tells; no flash'];
    expect(staysIn(dark)[0]).toMatchObject({ light: 'dark', sure: null, slow: null, lens: '200 mm, apex' });
    expect(staysIn(dark)[0]!.notes).toEqual(notes);
    const dusk = staysIn(runSheet(handMadeDay({ lightWords: () => 'front, sun low, then dark' })))[0]!;
    expect(dusk).toMatchObject({ sure: 320, notes: ['Fast 1/500', `then ${notes[0]}`] });
  });

  it('PL609: what another photographer stands at does not go by', () => {
    const stays = SLOTS.map(({ name }, i): Stay => ({ photographer: i % 2, stretch: name, spot: spotId(1) }));
    const stretches = SLOTS.map((slot): Stretch => ({ ...stretchesOf(slot.name)[0]!, name: slot.name, to: slot.end }));
    const sheet = runSheet(handMadeDay({ source: { kind: 'plan', stays, stretches }, photographers: 2 }));
    expect(linesOf(sheet).filter((line) => / by: /.test(line))).toEqual([]);
  });

  it('PL604: what most groups start from stands in the row, what another does in the notes', () => {
    const [first] = staysIn(runSheet(handMadeDay()));
    expect(first).toMatchObject({ sure: 320, slow: 125, lens: '200 mm, apex', light: 'front', notes: ['Fast 1/500'] });
    const [bare] = staysIn(runSheet(handMadeDay({ settings: () => null, lightWords: () => null })));
    expect(bare).toMatchObject({ sure: null, slow: null, lens: null, light: null, notes: [] });
  });

  it('PL605: the circuit’s and the marshals’ rules come first, and a caution stands at its spot, once', () => {
    const sheet = runSheet(
      handMadeDay({ source: { kind: 'stands', stands: [...STANDS, stand(4, '17:00', '17:20')] } }),
    );
    expect(sheet.cautions[0]).toMatch(/^The circuit’s, the marshals’ and local rules come first/);
    expect(sheet.cautions).toContain('Red flag: stand still, lens down and off anybody hurt, do what marshals say.');
    expect(staysIn(sheet).map(({ cautions }) => cautions.length)).toEqual([0, 0, 0, 0, 1, 0, 0, 0]);
    expect(runSheet(handMadeDay({ cautions: [] })).cautions[0]).toMatch(/^The circuit’s, the marshals’/);
  });

  it('PL606: at lunch the sheet holds the afternoon, and the day line what is done', () => {
    const sheet = runSheet(handMadeDay({ from: at('13:22'), printedAt: at('13:22') }));
    expect(sheet.title).toBe('Run sheet, after lunch');
    expect(linesOf(sheet)[0]).toBe('13:22 Water, plugs, brim. A seconds clock photographed with every body.');
    expect(staysIn(sheet).map(({ spot }) => spot.name)).toEqual(['Strand', 'Gannet', 'Coble']);
    expect(sheet.stands.map(({ isDone }) => isDone)).toEqual([true, true, true, true, false, false, false]);
    expect(runSheet(handMadeDay({ from: at('10:40') })).title).toBe('Run sheet, from 10:40');
  });

  it('PL607: riders stand under their group, those without one last, those never seen apart', () => {
    const { stillToGet, neverSeen } = runSheet(
      handMadeDay({
        watch: [
          watched('F', 1),
          watched('N', 1),
          { ...watched('N', 2), group: null },
          watched('Q', 3),
          watched('N', 4, { isNeverSeen: true }),
        ],
      }),
    );
    expect(stillToGet.map(({ group, riders }) => [group?.name ?? null, riders.length])).toEqual([
      ['Novice', 1],
      ['Fast', 1],
      [null, 2],
    ]);
    expect(neverSeen).toHaveLength(1);
  });

  it('PL608: what does not fit together is said in a sentence', () => {
    expect(runSheet(handMadeDay({ source: { kind: 'stands', stands: [] } })).warnings).toEqual([
      'Nothing is planned for this day yet: take a plan, or say where you stand and when.',
    ]);
    const stays = [stay('N9', 1), stay('N1 first half', 1), { ...stay('I1 first half', 1), spot: 'gone' as SpotId }];
    expect(runSheet(handMadeDay({ source: { kind: 'plan', stays, stretches: STRETCHES } })).warnings).toEqual([
      'The plan holds N9, which the timetable no longer has. Plan again, or say where you stand.',
      'The circuit has no spot gone, though the plan stands there. It was left out.',
    ]);
    const clash = [stand(1, '09:00', '10:00'), stand(2, '09:30', '11:00')];
    expect(runSheet(handMadeDay({ source: { kind: 'stands', stands: clash } })).warnings[0]).toBe(
      'You say that you stand at Beacon until 10:00 and at Gannet from 09:30. Mend one of the two.',
    );
    const byBody = (bodies: readonly string[]) => clash.map((one, i) => ({ ...one, body: bodies[i]! as BodyKey }));
    const warned = (stands: readonly Stand[]) => runSheet(handMadeDay({ source: { kind: 'stands', stands } })).warnings;
    expect(warned(byBody(['one', 'one'])).length).toBe(warned(clash).length);
    expect(warned(byBody(['one', 'two']))).toEqual([]);
  });

  it('leaves out what belongs to another day', () => {
    const stands = [stand(1, '09:00', '10:00'), { ...stand(2, '09:00', '10:00'), from: wallMsOf(DAY - 1) }];
    expect(staysIn(runSheet(handMadeDay({ source: { kind: 'stands', stands } })))).toHaveLength(1);
  });

  it('draws the circuit with the ways that may be used, and the minutes gone between spots', () => {
    const input = handMadeDay();
    const closed = { id: 'closed', kind: 'path', crossing: 'none', onFoot: 'nobody', byVehicle: 'nobody' } as const;
    const circuit = { ...input.circuit!, ways: [...input.circuit!.ways, { ...closed, line: [] }] };
    const { map } = runSheet({ ...input, circuit });
    expect(map!.circuit).toEqual(input.circuit);
    expect(map!.minutes.map(({ minutes }) => minutes)).toEqual([6, 6, 6, 7, 6]);
    const spots = new Set(input.spots.map(({ id }) => id));
    for (const { from, to } of map!.minutes)
      expect([spots.has(from), spots.has(to), from !== to]).toEqual([true, true, true]);
    expect(runSheet(handMadeDay({ circuit: undefined as never })).map).toBeNull();
  });
});

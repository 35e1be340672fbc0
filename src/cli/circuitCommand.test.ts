import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import { gpxOf, recordLaps } from '../../demo/circuit/recordLaps.js';
import { seededRandom } from '../core/numeric/random.js';
import { readCircuit, writeCircuit } from '../core/plan/index.js';
import { createMeeting } from '../host/meeting/index.js';
import { lastSaid } from '../host/plan/sheet/saidOfPlan.js';
import { type CircuitCommandWish, circuitCommand } from './circuitCommand.js';
import { lookAt } from './sayDecisions.js';

let place: string;
let folder: string;
beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), 'tyrewall-circuit-'));
  folder = join(place, 'meeting');
  const day = '2026-09-19';
  await createMeeting(folder, { name: 'Round', firstDay: day, lastDay: day, zone: 'Europe/London', spots: [] });
});
afterEach(() => rm(place, { recursive: true }));

const fileWith = async (name: string, text: string): Promise<string> => {
  await writeFile(join(place, name), text);
  return join(place, name);
};
const stateRoot = () => ({ stateRoot: join(place, 'state') });
async function lines(file?: string, wish: CircuitCommandWish = {}): Promise<readonly string[]> {
  const said: string[] = [];
  await circuitCommand(folder, file, { ...stateRoot(), ...wish }, (line: string) => said.push(line));
  return said;
}
const known = async () => lastSaid((await lookAt(folder, stateRoot())).log, 'circuit')?.circuit ?? null;

describe('tyrewall circuit', () => {
  it('PL119: a file is told of with its faults, and taken only with --take', async () => {
    const crossed = { ...EBBSTONE, centreline: EBBSTONE.centreline.with(10, EBBSTONE.centreline[200]!) };
    const bad = await fileWith('bad.geojson', writeCircuit(crossed));
    const told = await lines(bad);
    expect(told[0]).toMatch(/^! The centreline crosses itself/);
    expect(told.at(-1)).toBe('Nothing is taken yet; say it again with --take.');
    expect(await known()).toBeNull();

    const good = await fileWith('good.geojson', writeCircuit(EBBSTONE));
    expect((await lines(good, { take: true }))[0]).toMatch(
      /^Ebbstone: 4\.\d\d km, clockwise; 8 spots, 10 ways, 9 bends\.$/,
    );
    expect(await known()).toEqual(EBBSTONE);
  });

  it('PL119: a recorded lap is a circuit under the name that is said', async () => {
    const drive = { laps: 1, speed: 20, from: 0.1, on: 0.05, walksToCar: true };
    const places = recordLaps(EBBSTONE.centreline, drive, { errorM: 3, lasting: 0.95 }, seededRandom(7));
    const told = await lines(await fileWith('lap.gpx', gpxOf(places)), { take: true, name: 'Harbour' });
    expect(told[0]).toMatch(/^Harbour: 4\.\d\d km, clockwise; 0 spots, 0 ways, \d+ bends\.$/);
    expect(told[1]).toMatch(/^From one lap of about \d+ m, clockwise/);
    expect(await known()).toMatchObject({ name: 'Harbour', zone: 'Europe/London' });
  });

  it('PL119: the meeting’s circuit is told of and saved, over no other file', async () => {
    await expect(lines()).rejects.toThrow(/^Expected a circuit of this meeting, but nobody drew one\./);
    await lines(await fileWith('good.geojson', writeCircuit(EBBSTONE)), { take: true });
    const saved = join(place, 'saved.geojson');
    expect((await lines(undefined, { save: saved })).at(-1)).toBe(`${saved}: the circuit as GeoJSON.`);
    expect(readCircuit(await readFile(saved, 'utf8')).circuit).toEqual(EBBSTONE);
    await expect(lines(undefined, { save: saved })).rejects.toThrow(/^Expected to write .*saved\.geojson but /);
  });

  it('PL119: of anything else nothing is made, and it is said why', async () => {
    const note = await fileWith('note.txt', 'a note');
    const said: string[] = [];
    const asked = circuitCommand(folder, note, stateRoot(), (line: string) => said.push(line));
    await expect(asked).rejects.toThrow(/^No circuit can be made of .*note\.txt: see above\./);
    expect(said[0]).toMatch(/^! Expected a GeoJSON file, but it is not JSON/);
    await expect(lines(join(place, 'missing.gpx'))).rejects.toThrow(/^Expected to read .*missing\.gpx but /);
  });
});

/** `tyrewall circuit <meeting> [file]`: a circuit's file or a recorded lap, with its faults; or the meeting's own circuit. */
import { readFile, writeFile } from 'node:fs/promises';
import { checkCircuit } from '../core/plan/circuit/checkCircuit.js';
import { type Brought, readBrought } from '../core/plan/circuit/readBrought.js';
import { layTrack } from '../core/plan/circuit/track.js';
import type { Circuit } from '../core/plan/circuit/types.js';
import { writeCircuit } from '../core/plan/index.js';
import { meaningOf } from '../host/bringin/index.js';
import { lastSaid } from '../host/plan/sheet/saidOfPlan.js';
import { CliError } from './cliError.js';
import { lookAt, type MeetingWish, sayDecisions } from './sayDecisions.js';
import { counted, onOneLine } from './words.js';

export interface CircuitCommandWish extends MeetingWish {
  /** Make it the meeting's circuit. */
  readonly take?: boolean;
  /** Of a recording; else as the meeting calls its circuit. */
  readonly name?: string;
  /** Where the circuit goes as GeoJSON. */
  readonly save?: string;
}

export async function circuitCommand(
  folder: string,
  file: string | undefined,
  wish: CircuitCommandWish,
  say = console.log,
): Promise<void> {
  const { about, log } = await lookAt(folder, wish);
  const name = wish.name ?? about.circuit ?? about.name;
  const brought =
    file === undefined
      ? ofMeeting(lastSaid(log, 'circuit')?.circuit)
      : readBrought(announced(await textOf(file), say), { name, zone: about.zone });
  for (const { sentence } of brought.problems) say(`! ${onOneLine(sentence)}`);
  const { circuit } = brought;
  if (circuit === null) throw new CliError(`No circuit can be made of ${file}: see above. Nothing is taken.`);
  for (const line of circuitLines(brought, circuit)) say(onOneLine(line));
  if (wish.save !== undefined) {
    await save(wish.save, circuit);
    say(`${wish.save}: the circuit as GeoJSON.`);
  }
  if (file === undefined) return;
  if (wish.take !== true) return say('Nothing is taken yet; say it again with --take.');
  await sayDecisions(folder, wish, [{ kind: 'circuit', circuit }]);
  say('Taken. Spots and ways are drawn at the desk (tyrewall open).');
}

function ofMeeting(circuit: Circuit | undefined): Brought {
  if (circuit === undefined)
    throw new CliError(
      'Expected a circuit of this meeting, but nobody drew one. Name the file of a circuit or of a recorded lap.',
    );
  return { kind: 'drawn', circuit, problems: checkCircuit(circuit), sentence: '' };
}

const circuitLines = ({ sentence }: Brought, circuit: Circuit): readonly string[] => [
  `${circuit.name}: ${(layTrack(circuit).lengthM / 1000).toFixed(2)} km, ${circuit.direction}; ${counted(circuit.spots.length, 'spot')}, ${counted(circuit.ways.length, 'way')}, ${counted(circuit.bends.length, 'bend')}.`,
  ...(sentence === '' ? [] : [`From ${sentence}`]),
];

/** A day of laps takes seconds. */
const LONG_CHARS = 5_000_000;

function announced(text: string, say: (line: string) => void): string {
  if (text.length > LONG_CHARS)
    say(`Looking for laps in ${Math.round(text.length / 1e6)} MB; that takes some seconds.`);
  return text;
}

const textOf = (file: string): Promise<string> =>
  readFile(file, 'utf8').catch((problem: NodeJS.ErrnoException) => {
    throw new CliError(`Expected to read ${file} but ${meaningOf(problem)}. Look at its name.`);
  });

/** Never over another file: a circuit saved before may hold spots that this one has not. */
const save = (file: string, circuit: Circuit): Promise<void> =>
  writeFile(file, writeCircuit(circuit), { flag: 'wx' }).catch((problem: NodeJS.ErrnoException) => {
    throw new CliError(`Expected to write ${file} but ${meaningOf(problem)}. Give another place.`);
  });

import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createMeeting } from '../host/meeting/index.js';
import { CliError } from './cliError.js';
import { finishCommand } from './handOverCommands.js';
import { takeBackCommand, takeOutCommand } from './waysCommands.js';

let root: string;
let folder: string;
let said: string[];
const say = (line: string) => said.push(line);
const state = () => ({ stateRoot: join(root, 'state') });
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-ways-cli-'));
  folder = join(root, 'meeting');
  said = [];
  await createMeeting(folder, {
    name: 'Ebbstone',
    firstDay: '2031-05-17',
    lastDay: '2031-05-17',
    zone: 'Europe/London',
    spots: [],
  });
});
afterEach(() => rm(root, { recursive: true, force: true }));

describe('tyrewall take-out', () => {
  it('says what is missing where there is nothing to take out', async () => {
    await takeOutCommand(folder, join(root, 'out'), state(), say);
    expect(said).toEqual(['Nothing to take out: no rider has a keeper yet.']);
  });

  it('refuses two wishes that do not go together, and a folder inside the meeting', async () => {
    const both = takeOutCommand(folder, join(root, 'out'), { ...state(), all: true, finals: true }, say);
    await expect(both).rejects.toThrow(CliError);
    await expect(both).rejects.toThrow(/Expected --all or --finals but got both/);
    const inside = takeOutCommand(folder, join(folder, 'out'), state(), say);
    await expect(inside).rejects.toThrow(/Expected a folder outside the meeting/);
  });

  it('an empty name, as of a variable that is not set, is no folder', async () => {
    await expect(takeOutCommand(folder, '', state(), say)).rejects.toThrow(
      'Expected a folder to take frames out to but its name is empty. Name one.',
    );
  });
});

describe('tyrewall take-back', () => {
  it('refuses a folder that is not there', async () => {
    const gone = takeBackCommand(folder, join(root, 'gone'), state(), say);
    await expect(gone).rejects.toThrow(/Expected a folder with finished pictures at .*gone, but there is none/);
  });

  it('says of each file what it is, and takes nothing unasked', async () => {
    const back = join(root, 'back');
    await mkdir(back);
    await takeBackCommand(folder, back, state(), say);
    await writeFile(join(back, 'torn.jpg'), 'no picture');
    const torn = takeBackCommand(folder, back, { ...state(), take: true }, say);
    await expect(torn).rejects.toThrow('1 picture was refused, as said above; all others are done.');
    expect(said).toEqual([
      `No picture lies in ${back}.`,
      expect.stringMatching(
        /^! Expected a whole picture in torn\.jpg, but it could not be read \(.*\); left where it is\. Write it out/,
      ),
      'Nothing new to take.',
    ]);
  });
});

describe('tyrewall finish', () => {
  it.each(['999', '1601', '1200.5', 'abc', ''])(
    'refuses proofs of “%s” pixels in those words and leaves the meeting as it is',
    async (proofEdge) => {
      const before = await readFile(join(folder, 'meeting.json'), 'utf8');
      await expect(finishCommand(folder, { proofEdge })).rejects.toThrow(
        `Expected a long edge of 1000 to 1600 pixels for proofs after --proof-edge but got ${proofEdge}.`,
      );
      expect(await readFile(join(folder, 'meeting.json'), 'utf8')).toBe(before);
    },
  );

  it('keeps an own mark with the meeting and for later ones, and refuses a file that is none before it changes anything', async () => {
    const before = await readFile(join(folder, 'meeting.json'), 'utf8');
    const file = join(root, 'mark.svg');
    await writeFile(file, 'no picture');
    await expect(finishCommand(folder, { mark: file })).rejects.toThrow(/^Expected a PNG or SVG with transparency/);
    await expect(finishCommand(folder, { mark: file, finals: true })).rejects.toThrow(/^Expected no mark beside/);
    await expect(finishCommand(folder, { mark: file, markInWords: true })).rejects.toThrow(/but got both/);
    expect(await readFile(join(folder, 'meeting.json'), 'utf8')).toBe(before);
    await writeFile(
      file,
      '<svg xmlns="http://www.w3.org/2000/svg" width="90" height="30"><circle cx="40" cy="15" r="9"/></svg>',
    );
    vi.stubEnv('TYREWALL_STATE', join(root, 'state'));
    try {
      await finishCommand(folder, { mark: file });
      expect(JSON.parse(await readFile(join(folder, 'meeting.json'), 'utf8')).markPicture).toMatch(/^[0-9a-f]{32}$/);
      expect(await readFile(join(root, 'state/mark.png'))).toEqual(await readFile(join(folder, 'mark.png')));
      await finishCommand(folder, { markInWords: true });
      expect(JSON.parse(await readFile(join(folder, 'meeting.json'), 'utf8')).markPicture).toBe('words');
    } finally {
      vi.unstubAllEnvs();
    }
  });

  it.each(['63', 'abc', '1e3'])('refuses finals of “%s” pixels in those words', async (edge) => {
    await expect(finishCommand(folder, { finals: true, edge })).rejects.toThrow(
      `64 to 100000, for finals after --edge but got ${edge}. Say for instance 3000.`,
    );
  });

  it.each([{ edge: '3000' }, { raw: true }])(
    'refuses %o without --finals, which would be passed over',
    async (wish) => {
      await expect(finishCommand(folder, wish)).rejects.toThrow(
        /Expected --finals beside --(edge|raw), .* was not said/,
      );
    },
  );
});

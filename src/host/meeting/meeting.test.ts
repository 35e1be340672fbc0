import { execFileSync, spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import type { Fill } from '../../core/bringin/types.js';
import type { FileId, FillId, FrameId, PersonId } from '../../core/ids.js';
import type { FileMetadata, FrameMeasured, MeasuredLine } from '../../core/measure/types.js';
import { epochMsOf } from '../../core/units.js';
import { openLibsqlStore } from '../index/index.js';
import { newGestureId } from '../logbook/index.js';
import {
  bringTogether,
  createMeeting,
  type MeetingError,
  mergeMeetings,
  type OpenMeeting,
  openMeeting,
  ownerOf,
} from './index.js';

const root = mkdtempSync(join(tmpdir(), 'tyrewall-meeting-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

let made = 0;
const about = {
  name: 'Larchfield open day',
  firstDay: '2026-06-06',
  lastDay: '2026-06-07',
  zone: 'Europe/London',
  spots: [],
};

/** A new meeting, and a state folder of its own as if on a laptop of its own. */
async function freshMeeting(): Promise<{ folder: string; stateRoot: string }> {
  made++;
  const folder = join(root, `meeting ${made}`);
  await createMeeting(folder, about);
  return { folder, stateRoot: join(root, `state ${made}`) };
}

const keep = (name: string) => ({ kind: 'keep', file: name as FileId }) as const;
const leaveOut = (name: string) => ({ kind: 'leave-out', file: name as FileId }) as const;
const say = (meeting: OpenMeeting, ...decisions: Parameters<OpenMeeting['log']['append']>[1]) =>
  meeting.log.append(newGestureId(), decisions);
const inForce = (meeting: OpenMeeting) => meeting.log.folded().inForce.map(({ decision }) => decision);

const metadata = (name: string, more: Partial<FileMetadata> = {}): MeasuredLine => ({
  kind: 'metadata',
  at: epochMsOf(1),
  metadata: {
    v: 1,
    fileId: `file-${name}` as FileId,
    frameId: `frame-${name}` as FrameId,
    media: 'jpeg',
    bytes: 10,
    captured: { kind: 'absent', reason: 'no-capture-time' },
    body: {},
    lens: {},
    exposure: {},
    notes: [],
    ...more,
  },
});
const pixels = (name: string, more: Partial<FrameMeasured> = {}, at = 1): MeasuredLine => ({
  kind: 'pixels',
  at: epochMsOf(at),
  pixels: {
    kind: 'measured',
    v: 1,
    frameId: `frame-${name}` as FrameId,
    tier: 'preview',
    source: 'mpf-preview',
    subjects: [],
    dividerScore: 0,
    sceneDescriptor: '',
    meanLuminance: 0.5,
    clippedShare: 0,
    ...more,
  },
});
const everything = async (meeting: OpenMeeting) => ({
  about: meeting.about,
  log: meeting.log.folded().lines,
  inForce: meeting.log.folded().inForce,
  metadata: meeting.measured.allMetadata(),
  pixels: meeting.measured.allPixels(),
  people: meeting.people.all(),
  fills: await meeting.fills(),
});

/** Decisions, measurements, people: something of everything. */
async function filled(meeting: OpenMeeting): Promise<void> {
  await say(meeting, keep('a'), leaveOut('b'));
  await say(meeting, { kind: 'session-is', at: 1 as never, group: 'Grün' });
  await meeting.measured.append([metadata('a'), metadata('b'), pixels('a'), pixels('b', { tier: 'full' })]);
  await meeting.people.write({ id: 'p1' as PersonId, name: 'Ola Ferrix' });
}

describe('making and opening a meeting', () => {
  it('LB55: makes nothing where what is said of it cannot be', async () => {
    const folder = join(root, 'never made');
    await expect(createMeeting(folder, { ...about, zone: 'Nowhere/Town' })).rejects.toThrow(/IANA zone/);
    expect(existsSync(folder)).toBe(false);
  });

  it('LB12: makes a folder without any absolute path in it, and opens it again', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    await filled(meeting);
    await meeting.close();
    expect(readdirSync(folder).sort()).toEqual(['cards', 'log', 'made', 'measured', 'meeting.json', 'people']);
    for (const file of readdirSync(folder, { recursive: true, withFileTypes: true })) {
      if (file.isFile()) expect(readFileSync(join(file.parentPath, file.name), 'utf8')).not.toContain(root);
    }
    const again = await openMeeting(folder, { stateRoot });
    expect(again.about).toMatchObject(about);
    expect(again.notices).toEqual([]);
    await again.close();
  });

  it('LB12: refuses to make a meeting where something lies already, and says what', async () => {
    const { folder } = await freshMeeting();
    await expect(createMeeting(folder, about)).rejects.toThrow(/a meeting is there already; open it/);
    mkdirSync(join(root, 'occupied'));
    writeFileSync(join(root, 'occupied', 'letter.txt'), '');
    await expect(createMeeting(join(root, 'occupied'), about)).rejects.toThrow(/it holds letter\.txt/);
  });

  it.each([
    [{ zone: 'Mars/Olympus' }, /meeting\.zone: expected an IANA zone/],
    [{ firstDay: '6 June' }, /meeting\.firstDay: expected YYYY-MM-DD/],
    [{ name: '' }, /meeting\.name/],
  ])('LB12: refuses %o with the member that is wrong', async (wrong, sentence) => {
    await expect(createMeeting(join(root, `wrong ${++made}`), { ...about, ...wrong })).rejects.toThrow(sentence);
  });

  it('LB13: a meeting of a newer format is refused kindly and not touched', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const path = join(folder, 'meeting.json');
    const newer = readFileSync(path, 'utf8')
      .replace('"format": 1', '"format": 7')
      .replace('"spots": []', '"spots": "?"');
    writeFileSync(path, newer);
    await expect(openMeeting(folder, { stateRoot })).rejects.toThrow(
      /made by a newer Tyrewall: its folder has format 7, this program knows up to 1\. Nothing was changed/,
    );
    expect(readFileSync(path, 'utf8')).toBe(newer);
    expect(existsSync(stateRoot)).toBe(false);
  });

  it('LB13: a folder without a meeting and a damaged meeting.json say what to do', async () => {
    mkdirSync(join(root, 'empty'));
    await expect(openMeeting(join(root, 'empty'))).rejects.toThrow(/there is no meeting\.json\. Name the folder/);
    writeFileSync(join(root, 'empty', 'meeting.json'), '{ "id": ');
    await expect(openMeeting(join(root, 'empty'))).rejects.toThrow(/Copy meeting\.json from the second disk/);
  });
});

describe('the index is not the truth', () => {
  it('LB14: deleting the state folder gives the same meeting', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    await filled(meeting);
    const before = await everything(meeting);
    await meeting.close();
    rmSync(stateRoot, { recursive: true });
    const again = await openMeeting(folder, { stateRoot });
    expect(await everything(again)).toEqual(before);
    await again.close();
  });

  it.each([
    ['another schema', (path: string) => execSql(path, "update about set value = '0' where name = 'schema'")],
    ['no database at all', (path: string) => writeFileSync(path, 'not a database, not even nearly'.repeat(100))],
    ['tables that are missing', (path: string) => execSql(path, 'drop table measured')],
  ])('LB15: an index with %s is made again from the folder', async (_, damage) => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    await filled(meeting);
    const before = await everything(meeting);
    await meeting.close();
    const path = join(meeting.stateFolder, 'index.sqlite');
    damage(path);
    const again = await openMeeting(folder, { stateRoot });
    expect(await everything(again)).toEqual(before);
    await again.close();
  });

  it('LB15: the index answers while it fits, and a file that was replaced makes it start anew', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const first = await openMeeting(folder, { stateRoot });
    await first.measured.append([pixels('a'), pixels('b')]);
    await first.close();
    execSql(join(first.stateFolder, 'index.sqlite'), "update measured set lines = replace(lines, '0.5', '0.25')");
    const indexed = await openMeeting(folder, { stateRoot });
    expect(indexed.measured.pixels('frame-a' as FrameId)).toMatchObject({ meanLuminance: 0.25 });
    await indexed.close();
    const [name] = readdirSync(join(folder, 'measured'));
    const path = join(folder, 'measured', name as string);
    writeFileSync(path, readFileSync(path, 'utf8').split('\n').reverse().join('\n').trimStart());
    const replaced = await openMeeting(folder, { stateRoot });
    expect(replaced.measured.pixels('frame-a' as FrameId)).toMatchObject({ meanLuminance: 0.5 });
    await replaced.close();
  });

  it('LB15: what a killed program had measured but not indexed is read from the files', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const first = await openMeeting(folder, { stateRoot });
    await first.measured.append([metadata('a'), pixels('a')]);
    await first.close();
    const elsewhere = await openMeeting(folder, { stateRoot: join(root, 'another laptop') });
    await elsewhere.measured.append([pixels('b')]);
    await elsewhere.close();
    const again = await openMeeting(folder, { stateRoot });
    expect([...again.measured.allPixels().keys()].sort()).toEqual(['frame-a', 'frame-b']);
    await again.close();
  });

  it('LB15: fills come from the index until a manifest changes', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const fill: Fill = {
      id: 'fill-1' as FillId,
      folder: 'one',
      firstBroughtIn: epochMsOf(1_780_000_000_000),
      generations: 1,
      files: [{ path: 'DCIM/b.JPG', bytes: 5, modified: epochMsOf(1.5), fileId: 'f' as FileId }],
    };
    let reads = 0;
    const readFills = async () => {
      reads++;
      return [fill];
    };
    mkdirSync(join(folder, 'cards', 'one', 'ascmhl'), { recursive: true });
    for (const expectedReads of [1, 1]) {
      const meeting = await openMeeting(folder, { stateRoot, readFills });
      expect(await meeting.fills()).toEqual([fill]);
      expect(await meeting.fills()).toEqual([fill]);
      expect(reads).toBe(expectedReads);
      await meeting.close();
    }
    writeFileSync(join(folder, 'cards', 'one', 'ascmhl', '0002.mhl'), 'new');
    const changed = await openMeeting(folder, { stateRoot, readFills });
    await changed.fills();
    expect(reads).toBe(2);
    expect(changed.pathOf(fill, 'DCIM/b.JPG')).toBe(join(folder, 'cards', 'one', 'DCIM', 'b.JPG'));
    await changed.close();
  });
});

function execSql(path: string, sql: string): void {
  const store = openLibsqlStore(path);
  store.exec(sql);
  store.close();
}

describe('one meeting in several places', () => {
  it('LB16: moved to another folder it is the same meeting with the same state', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    await filled(meeting);
    const before = await everything(meeting);
    await meeting.close();
    const moved = join(root, 'elsewhere', 'under a name with “quotes” and 🏁');
    mkdirSync(join(root, 'elsewhere'));
    renameSync(folder, moved);
    const again = await openMeeting(moved, { stateRoot });
    expect(again.stateFolder).toBe(meeting.stateFolder);
    expect(await everything(again)).toEqual(before);
    await again.close();
  });

  it('LB16: opens from the second disk, brought up to date, when the first is gone', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    const secondDisk = join(root, 'second disk');
    await bringTogether(folder, secondDisk);
    await filled(meeting);
    const before = await everything(meeting);
    expect((await bringTogether(folder, secondDisk)).changedFiles).toBe(3);
    expect((await bringTogether(folder, secondDisk)).changedFiles).toBe(0);
    await say(meeting, keep('later'));
    expect((await bringTogether(folder, secondDisk)).changedFiles).toBe(1);
    await meeting.close();
    rmSync(folder, { recursive: true });
    const second = await openMeeting(secondDisk, { stateRoot });
    const after = await everything(second);
    expect(after.inForce.slice(0, -1)).toEqual(before.inForce);
    expect(after.inForce.at(-1)?.decision).toEqual(keep('later'));
    expect({ ...after, log: 0, inForce: 0 }).toEqual({ ...before, log: 0, inForce: 0 });
    await second.close();
  });

  it("LB17: two laptops' logs merge by putting the files side by side; keep beats leave-out said at once", async () => {
    const { folder, stateRoot } = await freshMeeting();
    const first = await openMeeting(folder, { stateRoot });
    await say(first, keep('both knew'));
    await first.close();
    const copy = join(root, 'colleague');
    cpSync(folder, copy, { recursive: true });
    const mine = await openMeeting(folder, { stateRoot });
    const theirs = await openMeeting(copy, { stateRoot: join(root, 'colleague state') });
    await say(mine, leaveOut('at once'));
    await say(mine, leaveOut('both knew'));
    await say(theirs, keep('at once'));
    await mine.close();
    await theirs.close();
    for (const name of readdirSync(join(copy, 'log'))) cpSync(join(copy, 'log', name), join(folder, 'log', name));
    const merged = await openMeeting(folder, { stateRoot });
    expect(inForce(merged)).toEqual(expect.arrayContaining([keep('at once'), leaveOut('both knew')]));
    expect(inForce(merged)).toHaveLength(2);
    await say(merged, leaveOut('at once'));
    expect(inForce(merged)).toContainEqual(leaveOut('at once'));
    expect(merged.notices).toEqual([]);
    await merged.close();
  });

  it('LB17: merging both ways gives both laptops the same meeting, and merging again changes nothing', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const copy = join(root, 'colleague two');
    cpSync(folder, copy, { recursive: true });
    const mine = await openMeeting(folder, { stateRoot });
    const theirs = await openMeeting(copy, { stateRoot: join(root, 'colleague two state') });
    await filled(mine);
    await say(theirs, keep('z'));
    await theirs.measured.append([pixels('c'), pixels('a', { meanLuminance: 0.9 }, 0)]);
    await expect(mergeMeetings(folder, copy, { stateRoot })).rejects.toThrow(/has it open on this machine/);
    await mine.close();
    await theirs.close();
    expect((await mergeMeetings(folder, copy, { stateRoot })).notices).toEqual([]);
    expect((await mergeMeetings(folder, copy, { stateRoot })).changedFiles).toBe(0);
    const [one, other] = [
      await openMeeting(folder, { stateRoot }),
      await openMeeting(copy, { stateRoot: join(root, 'third state') }),
    ];
    expect(await everything(one)).toEqual(await everything(other));
    expect(one.measured.pixels('frame-a' as FrameId)).toMatchObject({ meanLuminance: 0.9 });
    await one.close();
    await other.close();
  });

  it('LB17: brought together by two at once, lines stand there once', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    const copy = join(root, 'brought by two');
    for (let round = 0; round < 5; round++) {
      await say(meeting, keep(`a${round}`), keep(`b${round}`));
      await Promise.allSettled([bringTogether(folder, copy), bringTogether(folder, copy)]);
    }
    await meeting.close();
    const [name] = readdirSync(join(folder, 'log')) as [string];
    expect(readdirSync(join(copy, 'log'))).toEqual([name]);
    expect(readFileSync(join(copy, 'log', name), 'utf8')).toBe(readFileSync(join(folder, 'log', name), 'utf8'));
  });

  it('LB17: two different meetings are not put together, and files that contradict are both kept', async () => {
    const one = await freshMeeting();
    const two = await freshMeeting();
    await expect(bringTogether(one.folder, two.folder)).rejects.toThrow(/Expected the same meeting in both folders/);
    const copy = join(root, 'contradicting');
    cpSync(one.folder, copy, { recursive: true });
    writeFileSync(join(one.folder, 'log', 'same.jsonl'), 'one\n');
    writeFileSync(join(copy, 'log', 'same.jsonl'), 'two\n');
    expect((await bringTogether(one.folder, copy)).notices).toEqual([expect.stringContaining('both were kept')]);
    expect((await bringTogether(one.folder, copy)).changedFiles).toBe(0);
    expect(readdirSync(join(copy, 'log'))).toHaveLength(2);
  });
});

describe('people', () => {
  const person = 'p-ola' as PersonId;

  it('LB18: names are rewritable and never in the log', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    await meeting.people.write({ id: person, name: 'Ola Ferix' });
    await meeting.people.write({ id: person, name: 'Ola Ferrix', contact: 'ola@example.org' });
    const point = { file: 'f' as FileId, x: 0.5, y: 0.5 };
    await say(meeting, { kind: 'rider-is', point, person });
    await meeting.close();
    const again = await openMeeting(folder, { stateRoot });
    expect(again.people.all()).toMatchObject([{ id: person, name: 'Ola Ferrix', contact: 'ola@example.org' }]);
    await again.close();
    for (const name of readdirSync(join(folder, 'log'))) {
      expect(readFileSync(join(folder, 'log', name), 'utf8')).not.toContain('Ferrix');
    }
  });

  it('LB19: an erased person is erased on the backup too, and does not come back from an older copy', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    await meeting.people.write({ id: person, name: 'Ola Ferrix' });
    const backup = join(root, 'backup with people');
    const older = join(root, 'older copy');
    await bringTogether(folder, backup);
    await bringTogether(folder, older);
    await meeting.people.erase(person);
    await expect(meeting.people.write({ id: person, name: 'Ola Ferrix' })).rejects.toThrow(/asked to be erased/);
    await bringTogether(folder, backup);
    await bringTogether(older, folder);
    await meeting.close();
    for (const place of [folder, backup]) {
      for (const name of readdirSync(join(place, 'people'))) {
        expect(readFileSync(join(place, 'people', name), 'utf8')).not.toContain('Ferrix');
      }
    }
    cpSync(join(older, 'people'), join(folder, 'people'), { recursive: true });
    const again = await openMeeting(folder, { stateRoot });
    expect(again.people.get(person)).toBeUndefined();
    expect(again.people.isErased(person)).toBe(true);
    expect(readdirSync(join(folder, 'people'))).toEqual([`${person}.erased.json`]);
    await again.close();
  });

  it('LB18: ids that would name a file elsewhere are refused; a file that is no person is left and told', async () => {
    const { folder, stateRoot } = await freshMeeting();
    writeFileSync(join(folder, 'people', 'note.json'), '{}');
    const meeting = await openMeeting(folder, { stateRoot });
    expect(meeting.notices).toEqual([expect.stringContaining('people/note.json')]);
    await expect(meeting.people.write({ id: '../log/x' as PersonId })).rejects.toThrow(/letters, digits and dashes/);
    await meeting.close();
  });
});

const loader = pathToFileURL(createRequire(import.meta.url).resolve('tsx')).href;
const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));

/** Opens the meeting in another process, which says `open`, does as told, and lives until it is killed. */
function otherProcess(folder: string, stateRoot: string, doing = '') {
  const program = join(root, `other-${++made}.mts`);
  writeFileSync(
    program,
    `import { openMeeting } from ${JSON.stringify(here('./index.ts'))};
     const meeting = await openMeeting(${JSON.stringify(folder)}, { stateRoot: ${JSON.stringify(stateRoot)} });
     ${doing}
     console.log('open');
     setInterval(() => undefined, 1000);`,
  );
  const child = spawn(process.execPath, ['--import', loader, program], { stdio: ['ignore', 'pipe', 'inherit'] });
  const opened = new Promise<void>((resolve, reject) => {
    child.stdout.once('data', () => resolve());
    child.once('exit', (code) => reject(new Error(`the other process ended with ${code}`)));
  });
  const killed = () => new Promise<void>((resolve) => child.once('exit', () => resolve()) && child.kill('SIGKILL'));
  return { opened, killed, pid: child.pid };
}

describe('one process owns a meeting', () => {
  it("LB20: a second process is told who has it and where its desk is; a killed owner's lock is gone with it", async () => {
    const { folder, stateRoot } = await freshMeeting();
    const owner = otherProcess(folder, stateRoot, "await meeting.announce('http://127.0.0.1:4713/');");
    await owner.opened;
    const refusal = await openMeeting(folder, { stateRoot }).catch((problem: MeetingError) => problem);
    expect(refusal).toMatchObject({ name: 'MeetingError', address: 'http://127.0.0.1:4713/' });
    expect((refusal as MeetingError).message).toMatch(
      new RegExp(`process ${owner.pid}.*has it open on this machine\\. Its desk is at http://127\\.0\\.0\\.1:4713/`),
    );
    expect((refusal as MeetingError).message).toContain('Expected to open the meeting “Larchfield open day” alone');
    const looking = await openMeeting(folder, { stateRoot, isForLooking: true });
    expect(await ownerOf(folder, { stateRoot })).toMatchObject({ pid: owner.pid, address: 'http://127.0.0.1:4713/' });
    const said = readdirSync(stateRoot, { recursive: true, encoding: 'utf8' }).find((path) =>
      /owner\.json$/.test(path),
    );
    expect(statSync(join(stateRoot, said!)).mode & 0o077, 'the pairing word is for its owner alone').toBe(0);
    await looking.close();
    await owner.killed();
    expect(await ownerOf(folder, { stateRoot })).toBeNull();
    const meeting = await openMeeting(folder, { stateRoot });
    await meeting.close();
  });

  it('LB20: the copy on another disk is the same meeting and is locked with it', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const meeting = await openMeeting(folder, { stateRoot });
    const copy = join(root, 'locked copy');
    await bringTogether(folder, copy);
    await expect(openMeeting(copy, { stateRoot })).rejects.toThrow(/has it open on this machine/);
    await meeting.close();
    const other = await openMeeting(copy, { stateRoot });
    await other.close();
  });
});

describe('looking only', () => {
  it('LB21: what is only looked at is not written to, and several may look at once', async () => {
    const { folder, stateRoot } = await freshMeeting();
    const before = readdirSync(folder, { recursive: true });
    const [one, two] = [
      await openMeeting(folder, { stateRoot, isForLooking: true }),
      await openMeeting(folder, { stateRoot, isForLooking: true }),
    ];
    await expect(say(one, keep('a'))).rejects.toThrow(/open for looking only; nothing was written/);
    await expect(two.measured.append([pixels('a')])).rejects.toThrow(/looking only/);
    await expect(two.people.write({ id: 'p' as PersonId })).rejects.toThrow(/looking only/);
    await one.close();
    await two.close();
    expect(readdirSync(folder, { recursive: true })).toEqual(before);
  });

  const isRoot = process.getuid?.() === 0;
  const canRun = (user: object): boolean => {
    try {
      execFileSync(process.execPath, ['-e', `require('fs').readFileSync(${JSON.stringify(here('./index.ts'))})`], user);
      return true;
    } catch {
      return false;
    }
  };
  it.skipIf(process.platform === 'win32')(
    'LB21: a folder that cannot be written to opens for looking, and says so',
    async () => {
      const { folder, stateRoot } = await freshMeeting();
      mkdirSync(stateRoot, { mode: 0o777 });
      execFileSync('chmod', ['-R', 'a+rX,a-w', folder]);
      execFileSync('chmod', ['a+rx', root]);
      execFileSync('chmod', ['a+rwx', stateRoot]);
      const program = join(root, 'looking.mts');
      writeFileSync(
        program,
        `import { openMeeting } from ${JSON.stringify(here('./index.ts'))};
       const meeting = await openMeeting(${JSON.stringify(folder)}, { stateRoot: ${JSON.stringify(stateRoot)} });
       console.log(meeting.isForLooking, meeting.notices.join());
       await meeting.close();`,
      );
      // Nothing is unwritable for root, so there the test becomes somebody else.
      const nobody = isRoot ? { uid: 65534, gid: 65534 } : {};
      if (!canRun(nobody)) {
        console.warn('LB21 SKIPPED: somebody else may not run Node here or not read this folder of the project.');
        return;
      }
      const said = execFileSync(process.execPath, ['--import', loader, program], {
        encoding: 'utf8',
        env: { ...process.env, HOME: stateRoot, TMPDIR: stateRoot },
        ...nobody,
      });
      execFileSync('chmod', ['-R', 'u+w', folder]);
      expect(said).toMatch(/^true The folder .* cannot be written to, so the meeting is open for looking only/);
    },
  );
});

import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { NOTHING_SAID } from '../core/office/index.js';
import { createMeeting } from '../host/meeting/index.js';
import { officePathOf, openOffice } from '../host/office/officeFile.js';
import type { MeetingPage } from '../host/office/pageOf.js';
import { beforeCommand } from './beforeCommand.js';

let root: string;
let folder: string;
let id: string;
const now = () => Date.parse('2026-06-13T23:30:00Z');

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-before-'));
  folder = join(root, 'meeting');
  const about = { name: 'Ebbstone', firstDay: '2026-06-20', lastDay: '2026-06-21', zone: 'Europe/London', spots: [] };
  id = (await createMeeting(folder, about)).id;
});
afterEach(() => rm(root, { recursive: true, force: true }));

async function said(wish: { json?: boolean; day?: string } = {}): Promise<string> {
  const lines: string[] = [];
  await beforeCommand(folder, { ...wish, stateRoot: join(root, 'state'), now }, (line: string) => lines.push(line));
  return lines.join('\n');
}

describe('tyrewall before', () => {
  it('PL933: with nothing written down it says what is missing, with an example that is called one', async () => {
    const page = await said();
    // Half past midnight at the circuit: the fourteenth already.
    expect(page).toMatch(/^Ebbstone\. 6 days to go: \d+ things are missing\./);
    expect(page).toMatch(/Missing\n {2}✗ No liability certificate/);
    expect(page).toMatch(/For example \(sums and ages are one country’s/);
    expect(page).toMatch(/The circuit’s, the marshals’ and local rules come first/);
  });

  it('PL933: settled, to mind and to pack stand apart, and only what is missing is marked so', async () => {
    await openOffice(officePathOf(join(root, 'state'))).change(() => ({
      own: { born: '1984-05-02' },
      kit: [{ kind: 'body', name: 'Body A', count: 1, serial: '4711', weightG: 900 }],
      meetings: { [id]: { ...NOTHING_SAID, asksAge: 18, signOn: '07:30', packed: ['boots'] } },
    }));
    const page = await said();
    expect(page).toMatch(/Settled\n {2}✓ You are 42/);
    expect(page).toMatch(/Packed\n {2}☑ Ankle boots/);
    expect(page).toMatch(/0\.9 kg weighed\./);
    expect(page).not.toMatch(/4711/);
  });

  it('PL933: --json is the same page as data', async () => {
    const { page, care, date } = JSON.parse(await said({ json: true })) as MeetingPage;
    expect(date).toBe('2026-06-20');
    expect(page.papers.filter(({ is }) => is === 'missing').map((one) => one.id)).toContain('right-to-sell');
    expect(care.cautions[0]?.sentence).toMatch(/come first/);
  });

  it('PL933: a day that is none of the meeting’s is refused, and nothing is written to the meeting', async () => {
    await expect(said({ day: '2026-06-25' })).rejects.toThrow(/2026-06-20 to 2026-06-21, but got 2026-06-25/);
    const before = await readdir(folder, { recursive: true });
    await said({ day: '2026-06-21' });
    expect(await readdir(folder, { recursive: true })).toEqual(before);
  });
});

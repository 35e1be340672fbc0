import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { newGestureId } from '../logbook/index.js';
import { createMeeting, openMeeting } from './index.js';

const root = mkdtempSync(join(tmpdir(), 'tyrewall-meeting-'));
afterAll(() => rmSync(root, { recursive: true }));

it('opens', async () => {
  const folder = join(root, 'm');
  await createMeeting(folder, {
    name: 'Test',
    firstDay: '2026-06-01',
    lastDay: '2026-06-01',
    zone: 'Europe/Berlin',
    spots: [],
  });
  const m = await openMeeting(folder, { stateRoot: join(root, 's') });
  await expect(openMeeting(folder, { stateRoot: join(root, 's') })).rejects.toThrow(/has it open/);
  await Promise.all([1, 2, 3].map((i) => m.log.append(newGestureId(), [{ kind: 'keep', file: `f${i}` as never }])));
  expect(m.log.folded().inForce).toHaveLength(3);
  await m.close();
  const again = await openMeeting(folder, { stateRoot: join(root, 's') });
  expect(again.log.folded().inForce).toHaveLength(3);
  expect(again.notices).toEqual([]);
  await again.close();
});

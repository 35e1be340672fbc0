/** Handing over from a terminal, against a running service. Rules HD4, HD13, HD16 of docs/rules/handing.md. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import type { OrderId } from '../core/handover/orders/index.js';
import { bringFinals, openHanding } from '../shop/handing/index.js';
import { noiseMaker, oneOf, placed } from '../shop/handing/testing.js';
import { adminClient } from '../shop/service/adminClient.js';
import { openDataFolder } from '../shop/service/dataFolder.js';
import { type OpenShop, openShop } from '../shop/service/openShop.js';
import { referenceOf } from '../shop/service/reference.js';
import type { ShopPorts } from '../shop/service/types.js';
import { offerOfDay, pictureId } from '../shop/testing/shopDay.js';
import { beginCommand } from './beginCommand.js';
import { bringCommand, letterCommand, linkCommand, takeLinkBackCommand, waitingCommand } from './handedCommands.js';
import { type AskWish, paidCommand } from './ordersCommand.js';

const folder = mkdtempSync(join(tmpdir(), 'tyrewall-handed-'));
const data = join(folder, 'data');

async function said(command: Promise<void>): Promise<string> {
  const lines: string[] = [];
  const spy = vi.spyOn(console, 'log').mockImplementation((line: string) => void lines.push(line));
  await command.finally(() => spy.mockRestore());
  return lines.join('\n');
}

describe('handing over from a terminal', () => {
  let shop: OpenShop;
  let ports: Omit<ShopPorts, 'parts'>;
  let ask: AskWish;
  let order: OrderId;
  let reference: string;
  beforeAll(async () => {
    const ends = { listen: '127.0.0.1', port: 0, adminListen: '127.0.0.1', adminPort: 0, isBehindProxy: false };
    shop = await openShop({
      ...ends,
      data,
      database: null,
      offers: [offerOfDay],
      site: null,
      parts: async (given, dataFolder) => {
        ports = given;
        return [await openHanding(given, { dataFolder, maker: null })];
      },
    });
    ask = { data, from: `http://127.0.0.1:${shop.adminPort}` };
    order = await placed({ ...ports, parts: [] }, [oneOf(4)]);
    reference = referenceOf(order);
    return async () => {
      await shop.close();
      rmSync(folder, { recursive: true, force: true });
    };
  });

  it('HD16: says what waits, brings what is wanted, gives out a link and takes it back', async () => {
    expect(await said(waitingCommand(ask))).toBe('All that is paid is handed over.');
    await said(paidCommand(reference, ask));
    const waits = `${reference}  \n  1 final to come: tyrewall orders bring <meeting>`;
    expect(await said(waitingCommand(ask))).toBe(waits);
    // A laptop with another meeting brings nothing of it, and refuses nothing.
    await said(beginCommand({ to: [folder], name: 'Ebbstone', day: '2031-05-17', zone: 'Europe/London' }));
    await said(bringCommand(join(folder, '2031-05-17 Ebbstone'), ask));
    expect(await said(waitingCommand(ask))).toBe(waits);
    const { adminKey } = await openDataFolder(data);
    const client = adminClient(ask.from!, adminKey);
    expect((await bringFinals(client.plain, noiseMaker(5_000_000))).brought).toBe(1);
    const [address] = (await said(linkCommand(reference, ask))).split('\n');
    const zip = await fetch(`${address}/all.zip`);
    expect([zip.status, (await zip.arrayBuffer()).byteLength]).toEqual([
      200,
      Number(zip.headers.get('content-length')),
    ]);
    expect(await said(waitingCommand(ask))).toBe('All that is paid is handed over.');
    await said(takeLinkBackCommand(reference, ask));
    expect(await client.removeFinals([pictureId(4)])).toMatchObject([
      { what: `finals/${pictureId(4)}/personal-full.jpg` },
    ]);
    expect((await fetch(address!)).status).toBe(410);
    await expect(letterCommand(reference, ask)).rejects.toThrow('Expected the settings of a mail server');
  });
});

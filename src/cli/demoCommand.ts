/** `tyrewall demo`: the main job on the invented meeting, then its desk. */
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { bringInShowing } from './bringInCommand.js';
import { layOutDemoMeeting, runName } from './demoMeeting.js';
import type { DemoShop } from './demoShop.js';
import { listenDesk, portSaid } from './deskOf.js';
import { makeMeetingProofs, makeWholeGallery } from './handOver.js';
import { showing } from './handOverCommands.js';
import { dayLines } from './printDay.js';
import { untilInterrupted } from './untilInterrupted.js';

export interface DemoWish {
  readonly folder?: string;
  readonly port?: string;
  readonly desk: boolean;
}

export async function demoCommand(wish: DemoWish): Promise<void> {
  const port = portSaid(wish.port);
  const folder = resolve(wish.folder ?? join(tmpdir(), runName()));
  const started = performance.now();
  console.log(`An invented meeting is laid in ${folder}. Riders, circuit, makes and liveries are made up.`);
  const { whole, cards } = await layOutDemoMeeting(folder, { judges: wish.desk });
  let shop: DemoShop | null = null;
  try {
    const morning = cards.filter((card) => card.name.startsWith('morning'));
    console.log(`\nLunch: ${morning.map((card) => card.name).join(' and ')} come in.`);
    await bringInShowing(
      whole,
      morning.map((card) => card.path),
    );
    for (const line of dayLines(whole.day.state()).slice(0, 2)) console.log(line);

    const afternoon = cards.filter((card) => !card.name.startsWith('morning'));
    console.log(`\nEvening: ${afternoon.map((card) => card.name).join(' and ')} come in.`);
    await bringInShowing(
      whole,
      afternoon.map((card) => card.path),
    );
    for (const line of dayLines(whole.day.state())) console.log(line);

    const proofs = await showing('proofs', (report) => makeMeetingProofs(whole, report));
    console.log(`\n${proofs.sentence}`);
    if (wish.desk) shop = await (await import('./demoShop.js')).openDemoShop(whole, join(folder, 'orders'));
    const gallery = await showing('gallery', (report) => makeWholeGallery(whole, report));
    console.log(gallery.sentence);
    console.log(`\nFrom cards to gallery in ${((performance.now() - started) / 1000).toFixed(0)} s.`);
    if (shop === null) return;
    await shop.offer(gallery.report);
    const handover = (await import('./deskHandover.js')).deskHandover(whole, shop.ask);
    const orders = async () => (await import('./ordersCommand.js')).clientOf(shop!.ask);
    const desk = await listenDesk(whole, { ...port, ask: shop.ask, handover, orders });
    console.log(`For riders: ${shop.gallery}\nThe desk: ${desk.url}\nEnd it with Ctrl+C.`);
    await untilInterrupted();
    await desk.close();
  } finally {
    await shop?.close();
    await whole.close();
  }
}

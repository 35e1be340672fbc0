/** `tyrewall demo`: the main job on the invented meeting, then its desk. */
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { bringInShowing } from './bringInCommand.js';
import { layOutDemoMeeting, runName } from './demoMeeting.js';
import { listenDesk, portSaid } from './deskOf.js';
import { makeMeetingGallery, makeMeetingProofs } from './handOver.js';
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
    console.log((await showing('gallery', (report) => makeMeetingGallery(whole, report))).sentence);
    console.log(`\nFrom cards to gallery in ${((performance.now() - started) / 1000).toFixed(0)} s.`);
    if (!wish.desk) return;
    const handover = (await import('./deskHandover.js')).deskHandover(whole);
    const desk = await listenDesk(whole, { ...port, handover });
    console.log(`The desk: ${desk.url}\nEnd it with Ctrl+C.`);
    await untilInterrupted();
    await desk.close();
  } finally {
    await whole.close();
  }
}

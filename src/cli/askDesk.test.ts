import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import type { CardsView, CardView } from '../server/types.js';
import { bringInAtDesk } from './askDesk.js';

const view = (name: string, changes: Partial<CardView>): CardView => {
  const plain = { files: 3, state: 'finished', verdict: 'keep', sentence: 'There is one copy only.', missing: [] };
  return { id: name, name, ...plain, troubles: [], copies: [], secondsLeft: null, ...changes } as CardView;
};

let server: Server | undefined;
afterEach(() => server?.close());

/** A desk that has brought these in; the request of the terminal is taken and nothing more. */
async function deskWith(cards: readonly CardView[]): Promise<string> {
  server = createServer((request, response) => {
    response.setHeader('content-type', 'application/json');
    response.end(JSON.stringify(request.url === '/api/cards' ? ({ asOf: 0, cards, urgent: [] } as CardsView) : {}));
  });
  await new Promise<void>((resolve) => server!.listen(0, '127.0.0.1', resolve));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/#token=invented`;
}

describe('bringing in at an open desk', () => {
  it('tells of the cards that were asked for alone, with everything that is missing', async () => {
    const address = await deskWith([
      view('morning', { source: '/media/morning', troubles: ['An old trouble.'] }),
      view('A', { source: '/media/A', missing: ['Disk B is full.'] }),
      view('fill', { source: '/media/theirs/cards/fill', verdict: 'format', sentence: 'This card may be formatted.' }),
      view('yesterday', { state: 'earlier' }),
    ]);
    const said: string[] = [];
    const isAllWell = await bringInAtDesk(address, ['/media/A', '/media/theirs'], (line) => said.push(line));
    expect(said.slice(1)).toEqual([
      'A: keep this card as it is. There is one copy only.',
      'A: Disk B is full.',
      'fill: This card may be formatted.',
    ]);
    expect(isAllWell).toBe(true);
  });
});

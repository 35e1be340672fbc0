/** Brings a card in, in a process of its own that a test can kill: `<card> <bytes a second> <destination…>`. */
import { bringIn } from '../index.js';

const [card, limit, ...destinations] = process.argv.slice(2);
void bringIn({
  cards: [card!],
  destinations,
  readLimitBytesPerSecond: Number(limit),
  onProgress: (progress) => {
    if (progress.state === 'copying') process.send?.('copying');
  },
}).then(() => process.exit(0));
